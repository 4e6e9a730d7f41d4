/** The server as VS Code starts it: over whatever the client chose (IPC, a pipe, standard input and output). */
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { serve } from './connection.ts';
import { nodeHost } from './node-host.ts';
import { keepNurserySmall } from './nursery.ts';

keepNurserySmall();
serve(createConnection(ProposedFeatures.all), nodeHost);
