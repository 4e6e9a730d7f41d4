/** The server in a worker of a browser: messages are posted, and every file is the client's. */
import {
  BrowserMessageReader,
  BrowserMessageWriter,
  createConnection,
  ProposedFeatures,
} from 'vscode-languageserver/browser';
import { serve } from './connection.ts';
import { keepDoor } from './doorkeeper.ts';
import { createTurnstile } from './turnstile.ts';
import { createWebPlanThread } from './web-plan-thread.ts';
import { scope } from './web-worker.ts';

type Port = ConstructorParameters<typeof BrowserMessageReader>[0];

const self = scope as unknown as Port;
const writer = new BrowserMessageWriter(self);
const gate = createTurnstile({ reader: new BrowserMessageReader(self), writer });
const door = keepDoor({ ...gate, log: (what) => console.warn(what) });
const connection = createConnection(ProposedFeatures.all, door.reader, gate.writer);
serve(connection, { planThread: (worker) => createWebPlanThread(() => worker() ?? besideUs()) });

/** The planner's script beside this one; undefined where this one was not read from a place of its own. */
function besideUs(): string | undefined {
  const { href } = scope.location ?? {};
  return href !== undefined && /^https?:/.test(href) ? new URL('plan-worker-web.js', href).href : undefined;
}
