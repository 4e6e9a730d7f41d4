/**
 * What waits to be said while a client does not read. What has been overtaken (the diagnostics of a file, how far a plan
 * is) makes room for what is so now; answers are kept as they are, and when they have become too many, `onFull` is told,
 * for no more to be asked until they are gone.
 */
import type { Message } from 'vscode-languageserver';

/** Bytes of answers that are kept before nothing more is asked. */
const most = 16 * 1024 * 1024;
/** Lines for the log that are kept. */
const mostLogged = 200;

export interface OutboxOptions<Packed> {
  /** Made of a message at once, or when it is its turn where it can still be overtaken. May throw. */
  readonly pack: (message: Message) => Packed;
  readonly sizeOf: (packed: Packed) => number;
  readonly onFull?: ((isFull: boolean) => void) | undefined;
}

export class Outbox<Packed> {
  private readonly options: OutboxOptions<Packed>;
  private waiting: ({ packed: Packed } | { message: Message })[] = [];
  private readonly overtakable = new Map<string, { message: Message }>();
  private logged = 0;
  private bytes = 0;
  private isFull = false;

  constructor(options: OutboxOptions<Packed>) {
    this.options = options;
  }

  get count(): number {
    return this.waiting.length;
  }

  /** `isBehind`: the client does not read. Throws where the message cannot be packed. */
  put(message: Message, isBehind: boolean): void {
    const key = keyOf(message);
    const known = key === undefined ? undefined : this.overtakable.get(key);
    if (known) {
      known.message = message;
      return;
    }
    if (isBehind && isLogged(message) && ++this.logged > mostLogged) return;
    if (key !== undefined) {
      const one = { message };
      this.overtakable.set(key, one);
      this.waiting.push(one);
      return;
    }
    const packed = this.options.pack(message);
    this.bytes += this.options.sizeOf(packed);
    this.waiting.push({ packed });
    this.tellFull();
  }

  /** All that waits, in order. What cannot be packed is left out: all that can be overtaken is plain data of ours. */
  take(): Packed[] {
    const packed: Packed[] = [];
    for (const one of this.waiting) {
      try {
        packed.push('packed' in one ? one.packed : this.options.pack(one.message));
      } catch {
        // See above.
      }
    }
    this.waiting = [];
    this.overtakable.clear();
    this.bytes = 0;
    this.logged = 0;
    return packed;
  }

  /** Called once what was taken is on its way. */
  tellFull(): void {
    const isFull = this.bytes > most;
    if (isFull === this.isFull) return;
    this.isFull = isFull;
    this.options.onFull?.(isFull);
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
