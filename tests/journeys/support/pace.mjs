// SLOW=4 makes the browser's processor four times slower, as an old phone is. Only Chromium can be slowed.

/** How many times slower. */
export const SLOW = Number(process.env.SLOW ?? 1);

/** A time limit, ms, for a browser that is so much slower. */
export const within = (ms) => ms * SLOW;
