/** When proof marks are read. */
export const MARK_MOMENTS = ["start of the day", "end of the day", "after turning the stone"] as const;
