/** Exit codes, as the README lists them. */
export const EXIT = { fine: 0, refused: 1, wrongInput: 2, ourBug: 3 } as const;
