/** Node: files of the machine, a thread for the planner, and the pages of the rules that ship with the tool. */
import { nodeFiles } from '../model/node-files.ts';
import { afterFirstReading } from './engine.ts';
import type { Host } from './host.ts';
import { createPlanThread } from './plan-thread.ts';
import { rulePagesBeside } from './rule-pages.ts';

export const nodeHost: Host = {
  files: nodeFiles,
  planThread: () => createPlanThread(),
  rulePages: rulePagesBeside(),
  afterFirstReading,
};
