/** What a server runs on: Node on a machine, or a worker of a browser. */
import type { Files } from '../model/files.ts';
import type { PlanThread } from './planning.ts';

export interface Host {
  /** Files that can be read from here; all others are asked of the client, where it offers that. */
  readonly files?: Files;
  /** Address of the folder with a page of each rule, `RULE.md`, where there is one that a client can open. */
  readonly rulePages?: string | undefined;
  /** Where plans are made. `worker` tells, once the client has said it, where the planner's script is. */
  readonly planThread: (worker: () => string | undefined) => PlanThread;
  /** Called once, when the first project has been read and told of. */
  readonly afterFirstReading?: () => void;
}

/** What a client may say of itself when it starts the server, all of it optional. */
export interface InitializationOptions {
  /** It shows how far the cutting plan is, and wants `storypole/planStatus`. */
  readonly planStatus?: boolean;
  /** It runs the commands that lenses name. */
  readonly commands?: boolean;
  /** It shows the project as a tree, and wants `storypole/projectChanged`. */
  readonly projectView?: boolean;
  /** It answers `storypole/listFolders` and `storypole/readFiles`, for files that are not on a disk. */
  readonly files?: boolean;
  /** Nothing above the folders that are open may be read, as in a workspace that is not trusted. */
  readonly withinFolders?: boolean;
  /** With 'push' diagnostics are sent, also to a client that can ask for them. */
  readonly diagnostics?: 'push';
  /** The address of plan-worker-web.js, for a server in a browser that cannot find it beside itself. */
  readonly planWorker?: string;
}

/** As far as it is what it should be. */
export function initializationOptions(given: unknown): InitializationOptions {
  if (typeof given !== 'object' || given === null) return {};
  const { planStatus, projectView, commands, files, withinFolders, diagnostics, planWorker } = given as Record<
    string,
    unknown
  >;
  return {
    planStatus: planStatus === true,
    projectView: projectView === true,
    commands: commands === true,
    files: files === true,
    withinFolders: withinFolders === true,
    ...(diagnostics === 'push' && { diagnostics }),
    ...(typeof planWorker === 'string' && { planWorker }),
  };
}
