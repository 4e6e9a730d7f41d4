/** What was asked for cannot be done: the sentence that says why. The terminal shows it alone and ends with 2. */
export class Stop extends Error {}
