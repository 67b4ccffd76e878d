/** How much of a heavy check runs: all of it under `npm run prove`, a seeded tenth in the ordinary tests. */
export const proving = process.env.PUNTELLO_PROVE !== undefined;
export const share = (n: number): number => (proving ? n : Math.ceil(n / 10));
