/** The server as VS Code starts it: over whatever the client chose (IPC, a pipe, standard input and output). */
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { nodeFiles } from '../model/node-files.ts';
import { serve } from './connection.ts';
import { keepNurserySmall } from './nursery.ts';

keepNurserySmall();
serve(createConnection(ProposedFeatures.all), nodeFiles);
