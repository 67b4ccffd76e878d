/** One plan from the bytes of a scan file, and the most memory that the process ever held; started by `memory.bench.ts`. */

import { finish } from "../../core/job.ts";
import { createPlanner, openScan } from "../../core/plan/planner.ts";
import { memorySource } from "../../core/scan/source.ts";
import { writeBinaryStl } from "../../core/scan/writeScan.ts";
import { demoCommission } from "../../seeds/demo.ts";
import { seeds } from "../../seeds/index.ts";
import { fineOwl } from "./inputs.ts";

const seed = seeds.find(({ name }) => name === "owl");
if (!seed) throw new Error("there is no owl among the seeds");
const bytes = writeBinaryStl(fineOwl());
const scan = finish(openScan(memorySource(bytes), seed.fileName));
const commission = demoCommission(seed);
const { plan, waits } = finish(createPlanner().work(scan, commission));
if (!plan) throw new Error(`no plan: ${JSON.stringify(waits)}`);
const peakGb = (process.resourceUsage().maxRSS * 1024) / 1e9;
console.log(JSON.stringify({ peakGb, points: plan.points.length, triangles: scan.health.triangles }));
