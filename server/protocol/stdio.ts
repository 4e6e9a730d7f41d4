/** The server over standard input and output, for any editor: `storypole language-server --stdio`. */
import { createConnection, type MessageReader, ProposedFeatures } from 'vscode-languageserver/node';
import { serve } from './connection.ts';
import { GatheringWriter } from './gathering-writer.ts';
import { nodeHost } from './node-host.ts';
import { keepNurserySmall } from './nursery.ts';

/** Serves until the client goes away, which ends the process. Nothing but messages is written to standard output. */
export function runStdioServer(): void {
  keepOutputClean();
  keepNurserySmall();
  // A stream, at whose end the library ends the process: it takes one beside a writer, though its types do not say so.
  const input = process.stdin as unknown as MessageReader;
  serve(createConnection(ProposedFeatures.all, input, new GatheringWriter(process.stdout)), nodeHost);
}

/** What anything prints goes to standard error: a stray line between two messages would end the conversation. */
function keepOutputClean(): void {
  const toError = (...args: unknown[]): void => console.error(...args);
  for (const method of ['log', 'info', 'debug', 'dir', 'table', 'group'] as const) console[method] = toError;
}
