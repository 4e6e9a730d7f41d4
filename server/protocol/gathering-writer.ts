/**
 * Messages on their way out of a stream. What is said in one turn leaves in one piece: the writer of the library takes a
 * turn of the event loop and two writes for every message, which a thousand diagnostics, and a single answer too, wait
 * for. Of very many the first leave before that, so that the client works on them while the others are made.
 *
 * A client that does not read is not talked to: what would be said is kept here (outbox.ts).
 */
import { AbstractMessageWriter, type Message, type MessageWriter } from 'vscode-languageserver/node';
import { Outbox } from './outbox.ts';

/** So many messages do not wait for the end of the turn. */
const batch = 64;

export interface GatheringWriterOptions {
  readonly onFull?: (isFull: boolean) => void;
  /** Nobody will ever read what is written. */
  readonly onGone?: (error: Error) => void;
}

export class GatheringWriter extends AbstractMessageWriter implements MessageWriter {
  private readonly output: NodeJS.WritableStream;
  private readonly outbox: Outbox<string>;
  private isEmpty = true;
  /** What was given to the output has not been taken by the client yet. */
  private isBehind = false;
  /** When what is waiting has been handed over. */
  private leaving: Promise<void> | undefined;

  constructor(output: NodeJS.WritableStream, options: GatheringWriterOptions = {}) {
    super();
    this.output = output;
    this.outbox = new Outbox({ pack: framed, sizeOf: (text) => text.length, onFull: options.onFull });
    output.on('error', (error: Error) => {
      this.fireError(error);
      options.onGone?.(error);
    });
    output.on('close', () => this.fireClose());
    output.on('drain', () => {
      this.isBehind = false;
      this.leave();
    });
  }

  write(message: Message): Promise<void> {
    try {
      this.outbox.put(message, this.isBehind);
      this.isEmpty = false;
    } catch (error) {
      this.fireError(error, message);
      return Promise.reject(error);
    }
    if (this.isBehind) return Promise.resolve();
    if (this.outbox.count >= batch) this.leave();
    this.leaving ??= Promise.resolve().then(() => this.leave());
    return this.leaving;
  }

  end(): void {
    this.isBehind = false;
    this.leave();
    this.output.end();
  }

  private leave(): void {
    this.leaving = undefined;
    if (this.isEmpty || this.isBehind) return;
    this.isEmpty = true;
    this.isBehind = !this.output.write(this.outbox.take().join(''), 'utf8');
    this.outbox.tellFull();
  }
}

function framed(message: Message): string {
  const text = JSON.stringify(message);
  return `Content-Length: ${Buffer.byteLength(text)}\r\n\r\n${text}`;
}
