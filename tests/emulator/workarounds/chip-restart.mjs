// The chip restarts: thrown out of the instruction, or out of the alarm, that made it.
export class ChipRestart extends Error {}
