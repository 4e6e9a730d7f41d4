/** Node: files of the machine, and a thread for the planner. */
import { nodeFiles } from '../model/node-files.ts';
import type { Host } from './host.ts';
import { createPlanThread } from './plan-thread.ts';

export const nodeHost: Host = { files: nodeFiles, planThread: () => createPlanThread() };
