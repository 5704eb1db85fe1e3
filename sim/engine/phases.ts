/** What a tool does, for the engine; the states of the meter are another matter. */
/** Nothing in work. */
export const IDLE = 0
/** Working, and nothing but the end of the work comes next. */
export const PLAIN = 1
/** Working, and a stop may come first: `at` holds the earlier of both. */
export const WATCHED = 2
/** Done, waiting for a place for what it holds. */
export const FULL = 3
export const DOWN = 4
/** Batch tools: the loader brings the load in; done, waiting for the loader; the loader takes it out. */
export const LOADING = 5
export const DONE = 6
export const UNLOADING = 7
/** Testers: done, waiting for a box that its cell falls into. */
export const HELD = 8
