/** How the copy is carried over. */

import type { Commission, Transfer } from "./commission.ts";

/** Without a word from the carver, lines are drilled by rule from the block's faces: nothing else need stand on the bench. */
export const transferOf = (commission: Commission): Transfer => commission.transfer ?? "faces";
