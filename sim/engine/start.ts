/**
 * Tick 0, at which a run starts, for fields that count ticks. It is minus zero: a field
 * that begins with 0 is kept as a small whole number until a tick is too large for one;
 * then its object takes another form, and the code compiled for the first is thrown away.
 */
export const START = -0
