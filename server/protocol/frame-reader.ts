/** The library's reader in our own words: it goes on after what it could not read, and can be told to wait. */
import type { Readable } from 'node:stream';
import {
  AbstractMessageReader,
  type DataCallback,
  type Disposable,
  ErrorCodes,
  type MessageReader,
  type MessageWriter,
} from 'vscode-languageserver/node';
import { refuse } from './doorkeeper.ts';
import { createFrames } from './frames.ts';

export interface FrameReaderOptions {
  readonly input: Readable;
  /** Who sent what is not JSON is told so. */
  readonly writer: MessageWriter;
  readonly onFault: (why: string) => void;
  /** Nothing more will come. */
  readonly onEnd: () => void;
}

export class FrameReader extends AbstractMessageReader implements MessageReader {
  private readonly options: FrameReaderOptions;
  private readonly reasons = new Set<string>();

  constructor(options: FrameReaderOptions) {
    super();
    this.options = options;
  }

  listen(callback: DataCallback): Disposable {
    const { input, writer, onFault, onEnd } = this.options;
    const frames = createFrames({
      onMessage: (message) => {
        try {
          callback(message as Parameters<DataCallback>[0]);
        } catch (error) {
          onFault(error instanceof Error ? (error.stack ?? error.message) : String(error));
        }
      },
      onFault: (why, isJson) => {
        onFault(why);
        if (isJson) refuse(writer, null, ErrorCodes.ParseError, why);
      },
    });
    const take = (data: Uint8Array): void => frames.take(data);
    let isOver = false;
    const end = (): void => {
      if (isOver) return;
      isOver = true;
      if (frames.pending() > 0) onFault('the input ended in the middle of a message');
      this.fireClose();
      onEnd();
    };
    input.on('data', take);
    input.on('end', end);
    input.on('close', end);
    input.on('error', (error) => {
      onFault(error.message);
      end();
    });
    return { dispose: () => input.off('data', take) };
  }

  /** Lets the client wait with what it has to say, or go on once there is no other reason to let it wait. */
  hold(isHeld: boolean, why: 'unread' | 'waiting'): void {
    if (isHeld) {
      this.reasons.add(why);
      this.options.input.pause();
    } else if (this.reasons.delete(why) && this.reasons.size === 0) this.options.input.resume();
  }
}
