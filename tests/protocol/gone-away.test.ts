/** A client that goes away in the middle of what the server asks of it: nothing that fails for that reason ends the server. */
import { PassThrough } from 'node:stream';
import { afterEach, expect, it } from 'vitest';
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import {
  createProtocolConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver-protocol/node';
import { createMemoryFiles } from '../../server/model/memory-files.ts';
import { serve } from '../../server/protocol/connection.ts';
import { createSlicedPlanner } from '../../server/protocol/web-plan-thread.ts';

const unhandled: unknown[] = [];
const keep = (error: unknown): void => void unhandled.push(error);
afterEach(() => {
  process.off('unhandledRejection', keep);
});

it('is not told of that', async () => {
  process.on('unhandledRejection', keep);
  const [toServer, toClient] = [new PassThrough(), new PassThrough()];
  const connection = createConnection(
    ProposedFeatures.all,
    new StreamMessageReader(toServer),
    new StreamMessageWriter(toClient),
  );
  serve(connection, { files: createMemoryFiles(), planThread: () => createSlicedPlanner() });
  const client = createProtocolConnection(new StreamMessageReader(toClient), new StreamMessageWriter(toServer));
  let asked: (() => void) | undefined;
  const isAsked = new Promise<void>((resolve) => {
    asked = resolve;
  });
  // Never answered.
  client.onRequest('client/registerCapability', () => {
    asked?.();
    return new Promise(() => undefined);
  });
  client.listen();
  const capabilities = { workspace: { didChangeWatchedFiles: { dynamicRegistration: true } } };
  await client.sendRequest('initialize', { processId: null, rootUri: null, capabilities });
  await client.sendNotification('initialized', {});
  await isAsked;
  connection.dispose();
  await new Promise((resolve) => setTimeout(resolve, 20));
  expect(unhandled).toEqual([]);
  client.dispose();
});
