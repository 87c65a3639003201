"""Runs a program and writes the most memory that it held, in KiB, into a file.

    python3 peak.py FILE PROGRAM ARGUMENTS...
"""

import os
import sys

report, program = sys.argv[1], sys.argv[2:]
child = os.spawnvp(os.P_NOWAIT, program[0], program)
_, status, usage = os.wait4(child, 0)
with open(report, "w", encoding="ascii") as file:
    file.write(str(usage.ru_maxrss))
sys.exit(os.waitstatus_to_exitcode(status))
