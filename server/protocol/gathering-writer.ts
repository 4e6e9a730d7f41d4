/**
 * Messages on their way out. What is said in one turn leaves in one piece: the writer of the library takes a turn of
 * the event loop and two writes for every message, which a thousand diagnostics, and a single answer too, wait for.
 *
 * A client that does not read is not talked to: what would be said is kept here, where what has been overtaken (the
 * diagnostics of a file, how far a plan is) makes room for what is so now. Answers are kept as they are; when they
 * have become too many, `onFull` is told, for no more to be asked until they are gone.
 */
import { AbstractMessageWriter, type Message, type MessageWriter } from 'vscode-languageserver/node';

/** Bytes of answers that are kept for a client that does not read, before nothing more is asked. */
const most = 16 * 1024 * 1024;
/** Lines for the log that are kept for it. */
const mostLogged = 200;

interface Waiting {
  /** Written out at once, or when it is its turn where it can still be overtaken. */
  content: string | Message;
}

export interface GatheringWriterOptions {
  readonly onFull?: (isFull: boolean) => void;
  /** Nobody will ever read what is written. */
  readonly onGone?: (error: Error) => void;
}

export class GatheringWriter extends AbstractMessageWriter implements MessageWriter {
  private readonly output: NodeJS.WritableStream;
  private readonly options: GatheringWriterOptions;
  private waiting: Waiting[] = [];
  private readonly overtakable = new Map<string, Waiting>();
  private logged = 0;
  private bytes = 0;
  private isFull = false;
  /** What was given to the output has not been taken by the client yet. */
  private isBehind = false;
  /** When what is waiting has been handed over. */
  private leaving: Promise<void> | undefined;

  constructor(output: NodeJS.WritableStream, options: GatheringWriterOptions = {}) {
    super();
    this.output = output;
    this.options = options;
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
    const key = keyOf(message);
    const known = key === undefined ? undefined : this.overtakable.get(key);
    if (known) {
      known.content = message;
      return this.leaving ?? Promise.resolve();
    }
    try {
      if (isLogged(message) && this.isBehind && ++this.logged > mostLogged) return Promise.resolve();
      if (key !== undefined) {
        const one: Waiting = { content: message };
        this.overtakable.set(key, one);
        this.waiting.push(one);
      } else {
        const content = framed(message);
        this.bytes += content.length;
        this.waiting.push({ content });
      }
    } catch (error) {
      this.fireError(error, message);
      return Promise.reject(error);
    }
    this.tellFull();
    if (this.isBehind) return Promise.resolve();
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
    if (this.waiting.length === 0 || this.isBehind) return;
    const texts: string[] = [];
    for (const { content } of this.waiting) texts.push(typeof content === 'string' ? content : written(content));
    this.waiting = [];
    this.overtakable.clear();
    this.bytes = 0;
    this.logged = 0;
    this.isBehind = !this.output.write(texts.join(''), 'utf8');
    this.tellFull();
  }

  private tellFull(): void {
    const isFull = this.bytes > most;
    if (isFull === this.isFull) return;
    this.isFull = isFull;
    this.options.onFull?.(isFull);
  }
}

function framed(message: Message): string {
  const text = JSON.stringify(message);
  return `Content-Length: ${Buffer.byteLength(text)}\r\n\r\n${text}`;
}

/** What cannot be written out is left out; all that can be overtaken is plain data of ours. */
function written(message: Message): string {
  try {
    return framed(message);
  } catch {
    return '';
  }
}

interface Notice extends Message {
  readonly method?: string;
  readonly id?: unknown;
  readonly params?: { readonly uri?: string; readonly token?: unknown; readonly value?: { readonly kind?: string } };
}

/** What of the same key was said before is of no interest any more; undefined where everything is to be told. */
function keyOf(message: Message): string | undefined {
  const { method, params, id } = message as Notice;
  if (id !== undefined) return undefined;
  switch (method) {
    case 'textDocument/publishDiagnostics':
      return `${method} ${params?.uri}`;
    case 'storypole/planStatus':
    case 'storypole/projectChanged':
      return method;
    case '$/progress':
      return params?.value?.kind === 'report' ? `${method} ${params.token}` : undefined;
    default:
      return undefined;
  }
}

function isLogged(message: Message): boolean {
  return (message as Notice).method === 'window/logMessage';
}
