/** The server's own bundle: over the channel that VS Code chose (IPC, a pipe, a socket), or standard input and output. */
import {
  type Connection,
  createConnection,
  IPCMessageReader,
  IPCMessageWriter,
  ProposedFeatures,
} from 'vscode-languageserver/node';
import { serve } from './connection.ts';
import { keepDoor } from './doorkeeper.ts';
import { lastResort } from './last-resort.ts';
import { nodeHost } from './node-host.ts';
import { keepNurserySmall } from './nursery.ts';
import { runStdioServer } from './stdio.ts';

function overIpc(): Connection {
  const writer = new IPCMessageWriter(process);
  const door = keepDoor({ reader: new IPCMessageReader(process), writer, log: (what) => console.error(what) });
  const faults = lastResort(door.last);
  const connection = createConnection(ProposedFeatures.all, door.reader, writer);
  faults.tell = (what) => connection.console.error(what);
  return connection;
}

function otherwise(): Connection {
  const faults = lastResort(() => 'at some time');
  const connection = createConnection(ProposedFeatures.all);
  faults.tell = (what) => connection.console.error(what);
  return connection;
}

const ownChannel = /^--(?:node-ipc|pipe|socket)(?:=|$)/;

if (process.argv.some((argument) => ownChannel.test(argument))) {
  keepNurserySmall();
  serve(process.argv.includes('--node-ipc') ? overIpc() : otherwise(), nodeHost);
} else runStdioServer();
