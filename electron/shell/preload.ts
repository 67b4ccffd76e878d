/** Runs in the window's sandbox before its page: puts one object there that forwards calls, and nothing else. */

import { contextBridge, ipcRenderer } from "electron";
import type { ShellBridge } from "../bridge/contract.ts";
import { CHANNEL } from "./channel.ts";

const bridge: ShellBridge = { call: (name, request) => ipcRenderer.invoke(CHANNEL, name, request) };
contextBridge.exposeInMainWorld("puntello", bridge);
