/**
 * Who may come in: between the reader and the library, which takes for granted that a client keeps to the protocol.
 * What is no message, comes before its time or after it, or asks with parameters that cannot be answered, is answered
 * here in one sentence, or told in the log where nobody waits for an answer.
 * source: Language Server Protocol 3.17, base protocol and lifecycle messages; JSON-RPC 2.0, batches and error codes.
 */
import { ErrorCodes, type Message, type MessageReader, type MessageWriter } from 'vscode-languageserver';
import { wrongParams } from './params.ts';

type Id = string | number;

export interface DoorkeeperOptions {
  readonly reader: MessageReader;
  readonly writer: MessageWriter;
  /** What was turned away that nobody waits for. */
  readonly log: (what: string) => void;
}

export interface Doorkeeper {
  /** To be read from in place of the other. */
  readonly reader: MessageReader;
  /** What was let in last, for whoever has to say what went wrong. */
  readonly last: () => string;
  /** The client has asked for the end. */
  readonly isOver: () => boolean;
}

export function keepDoor({ reader, writer, log }: DoorkeeperOptions): Doorkeeper {
  let state: 'new' | 'open' | 'over' = 'new';
  let last = 'before anything was asked';

  function isLetIn(message: unknown): boolean {
    if (Array.isArray(message))
      return turnAway(null, ErrorCodes.InvalidRequest, 'several messages in one are not taken');
    if (typeof message !== 'object' || message === null)
      return turnAway(null, ErrorCodes.InvalidRequest, 'a message is an object');
    const { id, method, params, result, error } = message as Record<string, unknown>;
    if (method === undefined) {
      if ((isId(id) || id === null) && (result !== undefined || error !== undefined)) return state !== 'new';
      return turnAway(isId(id) ? id : null, ErrorCodes.InvalidRequest, 'a message has a method, or is an answer');
    }
    if (typeof method !== 'string')
      return turnAway(isId(id) ? id : null, ErrorCodes.InvalidRequest, 'a method is a string');
    if (id !== undefined && !isId(id))
      return turnAway(null, ErrorCodes.InvalidRequest, `${method}: an id is a string or a number`);
    return isId(id) ? isRequestLetIn(id, method, params) : isNoticeLetIn(method, params);
  }

  function isRequestLetIn(id: Id, method: string, params: unknown): boolean {
    if (state === 'over') return turnAway(id, ErrorCodes.InvalidRequest, 'the server has been shut down');
    if (method === 'initialize') {
      if (state !== 'new') return turnAway(id, ErrorCodes.InvalidRequest, 'the server has been initialized before');
    } else if (state === 'new')
      return turnAway(id, ErrorCodes.ServerNotInitialized, 'the server waits for "initialize"');
    const wrong = wrongParams(method, params);
    if (wrong !== undefined) return turnAway(id, ErrorCodes.InvalidParams, `${method}: ${wrong}`);
    if (method === 'initialize') state = 'open';
    if (method === 'shutdown') state = 'over';
    last = `after ${method}${about(params)}`;
    return true;
  }

  function isNoticeLetIn(method: string, params: unknown): boolean {
    if (method === 'exit') return true;
    if (state !== 'open') {
      log(`${method} came ${state === 'new' ? 'before "initialize"' : 'after "shutdown"'} and was left out.`);
      return false;
    }
    const wrong = wrongParams(method, params);
    if (wrong !== undefined) {
      log(`${method} was left out: ${wrong}.`);
      return false;
    }
    if (method !== '$/cancelRequest') last = `after ${method}${about(params)}`;
    return true;
  }

  function turnAway(id: Id | null, code: number, why: string): false {
    if (id === null) log(`A message was left out: ${why}.`);
    refuse(writer, id, code, why);
    return false;
  }

  return {
    reader: letting(reader, isLetIn),
    last: () => last,
    isOver: () => state === 'over',
  };
}

/** What a reader reads, as far as it is let in. */
export function letting(reader: MessageReader, isLetIn: (message: Message) => boolean): MessageReader {
  return {
    onError: reader.onError,
    onClose: reader.onClose,
    onPartialMessage: reader.onPartialMessage,
    listen: (callback) =>
      reader.listen((message) => {
        if (isLetIn(message)) callback(message);
      }),
    dispose: () => reader.dispose(),
  };
}

/** Answers that a message is not taken. Nothing is to be done about an answer that cannot be sent. */
export function refuse(writer: MessageWriter, id: Id | null, code: number, message: string, data?: object): void {
  const error = { code, message, ...(data && { data }) };
  writer.write({ jsonrpc: '2.0', id, error } as Message).catch(() => undefined);
}

function isId(id: unknown): id is Id {
  return typeof id === 'string' || typeof id === 'number';
}

/** Which document it is about, where it is about one. */
function about(params: unknown): string {
  const { textDocument } = (params ?? {}) as { readonly textDocument?: { readonly uri?: unknown } };
  return typeof textDocument?.uri === 'string' ? ` of ${textDocument.uri}` : '';
}
