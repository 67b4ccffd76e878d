/** The worker: joins the catalogue to its own message port, and nothing else. */

import regular from "dejavu-fonts-ttf/ttf/DejaVuSans.ttf?url";
import bold from "dejavu-fonts-ttf/ttf/DejaVuSans-Bold.ttf?url";
import { jobCatalogue } from "./catalogue.ts";
import { serveJobs, turnByMessage } from "./jobServer.ts";
import type { Port } from "./protocol.ts";
import { ownFile, scanSource } from "./sources.ts";

const fonts = () => ({ regular: ownFile(regular), bold: ownFile(bold) });
serveJobs(self as unknown as Port, jobCatalogue({ fonts, source: scanSource }), turnByMessage());
