/** The server's own bundle: over the channel that VS Code chose (IPC, a pipe, a socket), or standard input and output. */
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { serve } from './connection.ts';
import { nodeHost } from './node-host.ts';
import { keepNurserySmall } from './nursery.ts';
import { runStdioServer } from './stdio.ts';

const ownChannel = /^--(?:node-ipc|pipe|socket)(?:=|$)/;

if (process.argv.some((argument) => ownChannel.test(argument))) {
  keepNurserySmall();
  serve(createConnection(ProposedFeatures.all), nodeHost);
} else runStdioServer();
