/** The channel between a Node process and one that it started, over which VS Code speaks; Node itself reads it, and frames nothing wrong. */
import {
  AbstractMessageWriter,
  type DataCallback,
  type Message,
  type MessageReader,
  type MessageWriter,
} from 'vscode-languageserver/node';
import { Outbox } from './outbox.ts';

/** As much of `process` as is needed here. */
export interface Channel {
  send?(message: unknown, handle: undefined, options: undefined, done: (error: Error | null) => void): boolean;
}

/** Says what there is to say at once, and keeps it (outbox.ts) while what was said before has not been read. */
export class IpcWriter extends AbstractMessageWriter implements MessageWriter {
  private readonly channel: Channel;
  private readonly outbox: Outbox<Message>;
  private underway = 0;
  private isBehind = false;

  constructor(channel: Channel, onFull: (isFull: boolean) => void) {
    super();
    this.channel = channel;
    this.outbox = new Outbox({
      pack: (message) => message,
      sizeOf: (message) => JSON.stringify(message).length,
      onFull,
    });
  }

  write(message: Message): Promise<void> {
    if (!this.isBehind) return this.send(message);
    try {
      this.outbox.put(message, true);
      return Promise.resolve();
    } catch (error) {
      this.fireError(error, message);
      return Promise.reject(error);
    }
  }

  end(): void {
    // Whoever started this process ends the channel.
  }

  private send(message: Message): Promise<void> {
    const { promise, resolve, reject } = Promise.withResolvers<void>();
    this.underway++;
    const done = (error: unknown): void => {
      this.underway--;
      if (error) {
        this.fireError(error, message);
        reject(error);
      } else resolve();
      if (this.underway === 0) this.catchUp();
    };
    try {
      // Node answers how much of what was sent is waiting to be read.
      if (this.channel.send?.(message, undefined, undefined, done) === false) this.isBehind = true;
    } catch (error) {
      done(error);
    }
    return promise;
  }

  private catchUp(): void {
    if (!this.isBehind) return;
    this.isBehind = false;
    for (const message of this.outbox.take()) this.send(message).catch(() => undefined);
    this.outbox.tellFull();
  }
}

export interface HeldReader {
  readonly reader: MessageReader;
  /** Lets what comes wait, or go on. */
  readonly hold: (isHeld: boolean) => void;
}

/** Node reads the channel whether it is wanted or not, so what waits is kept here: questions up to a limit (turnstile.ts), and edits. */
export function heldReader(own: MessageReader): HeldReader {
  const kept: Message[] = [];
  let isHeld = false;
  let callback: DataCallback = () => undefined;
  return {
    reader: {
      onError: own.onError,
      onClose: own.onClose,
      onPartialMessage: own.onPartialMessage,
      dispose: () => own.dispose(),
      listen: (given) => {
        callback = given;
        return own.listen((message) => {
          if (isHeld || kept.length > 0) kept.push(message);
          else callback(message);
        });
      },
    },
    hold(is) {
      isHeld = is;
      if (!is) setImmediate(goOn);
    },
  };

  /** One a turn, as they would have come. */
  function goOn(): void {
    if (isHeld) return;
    const next = kept.shift();
    if (next) callback(next);
    if (kept.length > 0) setImmediate(goOn);
  }
}
