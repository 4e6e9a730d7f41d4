/** The server over two streams of bytes, or one that goes both ways: standard input and output, a pipe, a socket. */
import { connect, type NetConnectOpts, type Socket } from 'node:net';
import type { Readable, Writable } from 'node:stream';
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { serve } from './connection.ts';
import { keepDoor } from './doorkeeper.ts';
import { keepNurserySmall } from './engine.ts';
import { FrameReader } from './frame-reader.ts';
import { GatheringWriter } from './gathering-writer.ts';
import { lastResort } from './last-resort.ts';
import { nodeHost } from './node-host.ts';
import { createTurnstile } from './turnstile.ts';

/** Serves until the client goes away, which ends the process. */
export function serveStreams(input: Readable, output: Writable): void {
  keepNurserySmall();
  const writer = new GatheringWriter(output, {
    onFull: (isFull) => reader.hold(isFull, 'unread'),
    onGone: () => end(),
  });
  const reader = new FrameReader({
    input,
    writer,
    onFault: (why) => console.error(`What came in could not be read: ${why}.`),
    onEnd: () => end(),
  });
  const gate = createTurnstile({ reader, writer, hold: (isHeld) => reader.hold(isHeld, 'waiting') });
  const door = keepDoor({ ...gate, log: (what) => console.error(what) });
  const end = (): void => process.exit(door.isOver() ? 0 : 1);
  const faults = lastResort(door.last);
  const connection = createConnection(ProposedFeatures.all, door.reader, gate.writer);
  faults.tell = (what) => connection.console.error(what);
  serve(connection, nodeHost);
}

/** A pipe (a named one, or a socket of the file system) or a port of this machine at which the client waits. */
export type Meeting = { readonly pipe: string } | { readonly port: number };

/** Goes to where the client waits, and serves it; where nobody waits, says so and ends with 1. */
export function serveAt(where: Meeting): void {
  const { options, name } = meetingOf(where);
  const socket: Socket = connect(options);
  const failed = (error: Error): void => {
    console.error(`Nobody can be reached at ${name}: ${error.message}.`);
    process.exit(1);
  };
  socket.once('error', failed);
  socket.once('connect', () => {
    socket.off('error', failed);
    // What is said is short, and waited for.
    socket.setNoDelay(true);
    serveStreams(socket, socket);
  });
}

function meetingOf(where: Meeting): { options: NetConnectOpts; name: string } {
  if ('pipe' in where) return { options: { path: where.pipe }, name: where.pipe };
  // Never another machine.
  return { options: { host: '127.0.0.1', port: where.port }, name: `port ${where.port}` };
}

/** A port as it was written, or undefined where it is none. */
export function portOf(text: string): number | undefined {
  const port = /^\d{1,5}$/.test(text) ? Number(text) : 0;
  return port >= 1 && port <= 65_535 ? port : undefined;
}
