/** The server over standard input and output, for any editor: `storypole language-server --stdio`. */
import { serveStreams } from './streams.ts';

/** Serves until the client goes away, which ends the process. Nothing but messages is written to standard output. */
export function runStdioServer(): void {
  keepOutputClean();
  // To a command it is no failure when nobody reads on; to a server it is.
  process.stdout.removeAllListeners('error');
  serveStreams(process.stdin, process.stdout);
}

/** What anything prints goes to standard error: a stray line between two messages would end the conversation. */
function keepOutputClean(): void {
  const toError = (...args: unknown[]): void => console.error(...args);
  for (const method of ['log', 'info', 'debug', 'dir', 'table', 'group'] as const) console[method] = toError;
}
