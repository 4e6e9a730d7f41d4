/** Ending a server and starting the next one, whatever the client was about. */
import type { BaseLanguageClient } from 'vscode-languageclient';

/** How long a server is waited for when it is asked to end, in milliseconds. */
const patience = 15_000;

/**
 * A server that is in the middle of a large plan may need longer than the two seconds it is given by default, and one that
 * is given up on would end the connection of the next when it ends. One that is still starting is waited for: it cannot be
 * ended before. Rejects where the server does not start; a client that failed once does not try again.
 */
export async function restart(client: Pick<BaseLanguageClient, 'start' | 'stop' | 'needsStop'>): Promise<void> {
  if (client.needsStop()) {
    await client.start();
    await client.stop(patience);
  }
  await client.start();
}
