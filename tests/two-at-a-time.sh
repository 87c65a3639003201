# For the script beside it: steps that do not lean on each other, one for each of two processors.

# Takes lines of "what | command". What each prints stays together, when it is over; all are run, and one that fails fails all.
two_at_a_time() {
    SPEAKS=$(mktemp)
    export SPEAKS
    export -f one_of_many step
    xargs --delimiter='\n' --max-procs=2 --max-args=1 bash -c 'one_of_many "$1"' - ||
        stop "a step above failed: look for FAILED"
    rm "$SPEAKS"
}

one_of_many() {
    local what=${1%% | *} command=${1#* | } log status=0
    log=$(mktemp)
    bash -euo pipefail -c "$command" >"$log" 2>&1 || status=$?
    {
        flock 9
        step "$what"
        cat "$log"
        [ "$status" -eq 0 ] || printf 'FAILED (%s): %s\n' "$status" "$what"
    } 9>"$SPEAKS"
    rm "$log"
    return "$status"
}
