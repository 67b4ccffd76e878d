/** A worker of the yard: joins its jobs to its own message port, and nothing else. */

import { serveJobs, turnByMessage } from "./jobServer.ts";
import type { Port } from "./protocol.ts";
import { scanSource } from "./sources.ts";
import { yardJobs } from "./yardJobs.ts";

serveJobs(self as unknown as Port, yardJobs(scanSource), turnByMessage());
