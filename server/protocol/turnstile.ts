/**
 * How many questions are inside and wait for their answers: between what reads and all that answers. A client can ask
 * faster than it is answered. Beyond so many nothing more is read until half of them are answered, so that it waits with
 * its writing, and nothing is lost. Where what comes cannot be left unread, and while the server itself waits for an
 * answer of the client that would come behind the questions, one more is answered at once with an error. What is no
 * question goes through always: an edit that was left out would leave the two with different texts.
 *
 * Answers count as given when they are written, not when they are read: a client that reads nothing before it has
 * written all is read on. What it does not read is bounded elsewhere (outbox.ts).
 */
import { LSPErrorCodes, type MessageReader, type MessageWriter } from 'vscode-languageserver';
import { limits } from '../model/limits.ts';
import { letting, refuse } from './doorkeeper.ts';

export interface TurnstileOptions {
  readonly reader: MessageReader;
  readonly writer: MessageWriter;
  /** Lets what comes wait, or go on; where there is none, it cannot. */
  readonly hold?: (isHeld: boolean) => void;
}

export interface Turnstile {
  /** To be read from, and written to, in place of the others. */
  readonly reader: MessageReader;
  readonly writer: MessageWriter;
}

interface Said {
  readonly id?: unknown;
  readonly method?: unknown;
}

const { most } = limits.mostWaiting;

/** Without these there is no beginning and no end, and each comes once. */
const always: readonly unknown[] = ['initialize', 'shutdown'];
/** What can be told to be asked again. source: Language Server Protocol 3.17, DiagnosticServerCancellationData. */
const askedAgain: readonly unknown[] = ['textDocument/diagnostic', 'workspace/diagnostic'];
/** What the server asks without anybody waiting for the answer. */
const idle = /^workspace\/(?:\w+\/)?refresh$|^client\/|^window\/workDoneProgress\/create$/;

export function createTurnstile({ reader, writer, hold }: TurnstileOptions): Turnstile {
  let inside = 0;
  let isHeld = false;
  /** What the server has asked, and cannot go on without; by their ids. */
  const own = new Set<unknown>();

  function look(): void {
    const is = own.size === 0 && (isHeld ? inside > most / 2 : inside >= most);
    if (is === isHeld) return;
    isHeld = is;
    hold?.(is);
  }

  function isLetIn(message: Said): boolean {
    const { id, method } = message;
    if (typeof id !== 'string' && typeof id !== 'number') return true;
    if (method === undefined) {
      if (own.delete(id)) look();
      return true;
    }
    if (typeof method !== 'string') return true;
    // What has been read before reading stopped is a piece of what the system keeps, and goes through.
    if (inside >= most && (hold === undefined || own.size > 0) && !always.includes(method)) {
      turnAway(id, method);
      return false;
    }
    inside++;
    look();
    return true;
  }

  function turnAway(id: string | number, method: string): void {
    const why = `${method}: ${most.toLocaleString('en')} questions wait for an answer, and no more are taken on until some are answered`;
    if (askedAgain.includes(method)) refuse(writer, id, LSPErrorCodes.ServerCancelled, why, { retriggerRequest: true });
    else refuse(writer, id, LSPErrorCodes.RequestFailed, why);
  }

  function wrote({ id, method }: Said): void {
    if (id === undefined || id === null) return;
    if (method === undefined) inside = Math.max(0, inside - 1);
    else if (typeof method === 'string' && !idle.test(method)) own.add(id);
    look();
  }

  return {
    reader: letting(reader, (message) => typeof message !== 'object' || message === null || isLetIn(message as Said)),
    writer: {
      onError: writer.onError,
      onClose: writer.onClose,
      write(message) {
        wrote(message as Said);
        return writer.write(message);
      },
      end: () => writer.end(),
      dispose: () => writer.dispose(),
    },
  };
}
