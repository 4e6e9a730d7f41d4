/** Starting the server again, with a client that behaves as the library's does. */
import { describe, expect, it } from 'vitest';
import { restart } from '../../client/restart.ts';

type State = 'stopped' | 'starting' | 'running' | 'failed';

/** Refuses what the library refuses: to end what does not run, and to start again what did not start. */
function clientIn(first: State): { done: string[]; client: Parameters<typeof restart>[0] } {
  let state = first;
  const done: string[] = [];
  return {
    done,
    client: {
      needsStop: () => state === 'starting' || state === 'running',
      async start() {
        if (state === 'failed') throw new Error('it did not start');
        if (state === 'stopped') done.push('started');
        if (state === 'starting') done.push('waited for');
        state = 'running';
      },
      async stop() {
        if (state !== 'running') throw new Error(`not running and cannot be stopped: ${state}`);
        done.push('ended');
        state = 'stopped';
      },
    },
  };
}

describe('a server that is started again', () => {
  it.each([
    ['runs', 'running', ['ended', 'started']],
    ['has ended', 'stopped', ['started']],
    ['is still starting', 'starting', ['waited for', 'ended', 'started']],
  ] as const)('where it %s', async (_, state, expected) => {
    const { client, done } = clientIn(state);
    await restart(client);
    expect(done).toEqual(expected);
  });

  it('says why where it did not start', async () => {
    await expect(restart(clientIn('failed').client)).rejects.toThrow('it did not start');
  });
});
