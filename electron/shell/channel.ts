/** The one channel between the window and the shell, named once for both ends. */
export const CHANNEL = "puntello";
