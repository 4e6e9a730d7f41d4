/** The server's own bundle, over the channel that whoever started it chose: that of Node, a pipe, a socket, or standard input and output. */
import { createConnection, IPCMessageReader, ProposedFeatures } from 'vscode-languageserver/node';
import { serve } from './connection.ts';
import { keepDoor } from './doorkeeper.ts';
import { keepNurserySmall } from './engine.ts';
import { heldReader, IpcWriter } from './ipc.ts';
import { lastResort } from './last-resort.ts';
import { nodeHost } from './node-host.ts';
import { runStdioServer } from './stdio.ts';
import { portOf, serveAt } from './streams.ts';
import { createTurnstile } from './turnstile.ts';

function serveIpc(): void {
  keepNurserySmall();
  const writer = new IpcWriter(process, (isFull) => held.hold(isFull));
  const gate = createTurnstile({ reader: new IPCMessageReader(process), writer });
  const held = heldReader(gate.reader);
  const door = keepDoor({ reader: held.reader, writer: gate.writer, log: (what) => console.error(what) });
  process.on('disconnect', () => process.exit(door.isOver() ? 0 : 1));
  const faults = lastResort(door.last);
  const connection = createConnection(ProposedFeatures.all, door.reader, gate.writer);
  faults.tell = (what) => connection.console.error(what);
  serve(connection, nodeHost);
}

/** What stands behind a word of the command line, with `=` or as the next one; undefined where it is not there. */
function given(name: string): string | undefined {
  const words = process.argv.slice(2);
  const at = words.findIndex((word) => word === name || word.startsWith(`${name}=`));
  return at < 0 ? undefined : words[at] === name ? (words[at + 1] ?? '') : words[at]?.slice(name.length + 1);
}

const [pipe, socket] = [given('--pipe'), given('--socket')];
const port = portOf(socket ?? '');
if (process.argv.includes('--node-ipc')) serveIpc();
else if (pipe !== undefined) serveAt({ pipe });
else if (port !== undefined) serveAt({ port });
else if (socket === undefined) runStdioServer();
else {
  console.error(`--socket takes a port from 1 to 65535, which "${socket}" is not.`);
  process.exitCode = 1;
}
