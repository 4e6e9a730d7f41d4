/** The server over standard input and output, for any editor: `storypole language-server --stdio`. */
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { serve } from './connection.ts';
import { keepDoor } from './doorkeeper.ts';
import { FrameReader } from './frame-reader.ts';
import { GatheringWriter } from './gathering-writer.ts';
import { lastResort } from './last-resort.ts';
import { nodeHost } from './node-host.ts';
import { keepNurserySmall } from './nursery.ts';

/** Serves until the client goes away, which ends the process. Nothing but messages is written to standard output. */
export function runStdioServer(): void {
  keepOutputClean();
  keepNurserySmall();
  // To a command it is no failure when nobody reads on; to a server it is.
  process.stdout.removeAllListeners('error');
  const writer = new GatheringWriter(process.stdout, {
    onFull: (isFull) => reader.hold(isFull),
    onGone: () => end(),
  });
  const reader = new FrameReader({
    input: process.stdin,
    writer,
    onFault: (why) => console.error(`What came in could not be read: ${why}.`),
    onEnd: () => end(),
  });
  const door = keepDoor({ reader, writer, log: (what) => console.error(what) });
  const end = (): void => process.exit(door.isOver() ? 0 : 1);
  const faults = lastResort(door.last);
  const connection = createConnection(ProposedFeatures.all, door.reader, writer);
  faults.tell = (what) => connection.console.error(what);
  serve(connection, nodeHost);
}

/** What anything prints goes to standard error: a stray line between two messages would end the conversation. */
function keepOutputClean(): void {
  const toError = (...args: unknown[]): void => console.error(...args);
  for (const method of ['log', 'info', 'debug', 'dir', 'table', 'group'] as const) console[method] = toError;
}
