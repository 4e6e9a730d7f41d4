/** A turnstile between a client and a server that are both in the test's hand. */
import type { DataCallback, Message, MessageReader, MessageWriter } from 'vscode-languageserver';
import { createTurnstile } from '../../../server/protocol/turnstile.ts';

export interface Said {
  readonly id?: number | string;
  readonly method?: string;
  readonly error?: { readonly code: number; readonly message: string; readonly data?: unknown };
}

export interface Stand {
  /** The client says something; an answer of the server. */
  readonly come: (message: Said) => void;
  readonly answer: (message: Said) => void;
  /** What got through to the server, and what was written to the client. */
  readonly inside: Said[];
  readonly written: Said[];
  /** Each time that reading was stopped, or went on. */
  readonly held: boolean[];
}

export function turnstile(canHold: boolean): Stand {
  const [inside, written, held]: [Said[], Said[], boolean[]] = [[], [], []];
  let callback: DataCallback = () => undefined;
  const nothing = () => ({ dispose: () => undefined });
  const reader = {
    onError: nothing,
    onClose: nothing,
    onPartialMessage: nothing,
    dispose: () => undefined,
    listen(given: DataCallback) {
      callback = given;
      return nothing();
    },
  } as MessageReader;
  const writer = {
    onError: nothing,
    onClose: nothing,
    end: () => undefined,
    dispose: () => undefined,
    write: (message: Message) => {
      written.push(message as Said);
      return Promise.resolve();
    },
  } as unknown as MessageWriter;
  const gate = createTurnstile({ reader, writer, ...(canHold && { hold: (is: boolean) => held.push(is) }) });
  gate.reader.listen((message) => inside.push(message as Said));
  return {
    come: (message) => callback({ jsonrpc: '2.0', ...message } as Message),
    answer: (message) => void gate.writer.write({ jsonrpc: '2.0', ...message } as Message),
    inside,
    written,
    held,
  };
}

/** So many questions, with ids from `from`. */
export function ask(stand: Stand, count: number, from = 0, method = 'textDocument/hover'): void {
  for (let id = from; id < from + count; id++) stand.come({ id, method });
}
