/**
 * Messages out of a stream of bytes: a head of lines with `Content-Length`, an empty line, so many bytes of JSON. What
 * does not fit is told and left out, and reading goes on with the next message: one bad length must not cost a day's
 * session. Nothing is kept without bound, and no byte is looked at more than a few times.
 *
 * A new head is known inside of what a wrong length made a body: `Content-Length: 12` with a line end behind it cannot
 * stand in JSON, where it would have to be in a string, and a string holds no line end.
 * source: Language Server Protocol 3.17, base protocol; RFC 8259, section 7.
 */

export interface FrameEvents {
  readonly onMessage: (message: unknown) => void;
  /** What could not be read; `isJson` where the frame was right and what is in it is not JSON. */
  readonly onFault: (why: string, isJson: boolean) => void;
}

export interface Frames {
  readonly take: (data: Uint8Array) => void;
  /** Bytes of a message that has not come in full. */
  readonly pending: () => number;
}

/** No message that an editor sends comes near; what claims to be larger is a mistake. */
export const largestMessage = 256 * 1024 * 1024;
/** Bytes of a head. */
const largestHead = 8192;

const lengthLine = /content-length[ \t]*:[ \t]*([^\r\n]*)\r\n/gi;
const nextHead = /content-length[ \t]*:[ \t]*\d+[ \t]*\r\n/i;
const headBegin = /content-length[ \t]*:/i;
const properHead = /^(?:[!#$%&'*+.^_`|~\w-]+:[^\r\n]*\r\n)*\r\n$/;
/** As much of the end of what was searched as a mark that has not come in full can take. */
const overlap = 64;

export function createFrames({ onMessage, onFault }: FrameEvents): Frames {
  let chunks: Buffer[] = [];
  let size = 0;
  /** How much of what is pending has been searched for a head. */
  let searched = 0;
  let state: 'head' | 'body' | 'lost' = 'head';
  let length = 0;
  let skipped = 0;

  function joined(): Buffer {
    if (chunks.length !== 1) chunks = [Buffer.concat(chunks, size)];
    return chunks[0] as Buffer;
  }

  function drop(count: number): void {
    const rest = joined().subarray(count);
    chunks = rest.length > 0 ? [rest] : [];
    size = rest.length;
    searched = 0;
  }

  function lose(why: string): void {
    onFault(why, false);
    state = 'lost';
    skipped = 0;
  }

  /** Each answers whether there may be more to do with what has come. */
  const steps = { head: readHead, body: readBody, lost: findHead } as const;

  function readHead(): boolean {
    if (size === 0) return false;
    const all = joined();
    const text = all.toString('latin1', 0, Math.min(size, largestHead + 4));
    const end = text.indexOf('\r\n\r\n');
    if (end < 0) {
      if (size <= largestHead) return false;
      // What comes may be anything; a head can begin within it.
      const at = headBegin.exec(text)?.index ?? 0;
      lose(`no head of a message ends within ${largestHead} bytes`);
      drop(at > 0 ? at : 1);
      return true;
    }
    const head = text.slice(0, end + 4);
    const said = [...head.matchAll(lengthLine)].at(-1)?.[1]?.trim();
    drop(end + 4);
    if (said === undefined) lose('a head without a Content-Length');
    else if (!/^\d+$/.test(said)) lose(`a Content-Length of "${said.slice(0, 40)}"`);
    else if (Number(said) > largestMessage)
      lose(`a Content-Length of ${said.slice(0, 40)}: more than ${largestMessage}`);
    else {
      if (!properHead.test(head)) onFault('bytes that belong to no message', false);
      state = 'body';
      length = Number(said);
    }
    return true;
  }

  function readBody(): boolean {
    if (size < length) return isCutShort();
    const body = joined().subarray(0, length);
    state = 'head';
    let message: unknown;
    try {
      message = JSON.parse(body.toString('utf8'));
    } catch (error) {
      onFault(error instanceof Error ? error.message : String(error), true);
      const at = nextHead.exec(body.toString('latin1'))?.index;
      drop(at ?? length);
      // Behind the end that a length too small has set, there is the rest of the message.
      if (at === undefined) {
        state = 'lost';
        skipped = 0;
      }
      return true;
    }
    drop(length);
    onMessage(message);
    return true;
  }

  /** Another message begins before this one is whole. */
  function isCutShort(): boolean {
    const from = Math.max(0, searched - overlap);
    const fresh = chunks.length === 1 ? (chunks[0] as Buffer).subarray(from) : Buffer.concat(chunksFrom(from));
    const at = nextHead.exec(fresh.toString('latin1'))?.index;
    searched = size;
    if (at === undefined) return false;
    onFault(`a message of ${length} bytes ends after ${from + at}`, false);
    drop(from + at);
    state = 'head';
    return true;
  }

  function chunksFrom(offset: number): Buffer[] {
    const found: Buffer[] = [];
    let left = size - offset;
    for (let i = chunks.length - 1; i >= 0 && left > 0; i--) {
      const chunk = chunks[i] as Buffer;
      found.push(left < chunk.length ? chunk.subarray(chunk.length - left) : chunk);
      left -= chunk.length;
    }
    return found.reverse();
  }

  function findHead(): boolean {
    if (size === 0) return false;
    const at = headBegin.exec(joined().toString('latin1'))?.index;
    const gone = at ?? Math.max(0, size - overlap);
    skipped += gone;
    drop(gone);
    if (at === undefined) return false;
    if (skipped > 0) onFault(`${skipped} bytes were left out before the next message`, false);
    state = 'head';
    return true;
  }

  return {
    take(data) {
      chunks.push(Buffer.from(data.buffer, data.byteOffset, data.byteLength));
      size += data.byteLength;
      while (steps[state]());
    },
    pending: () => (state === 'lost' ? 0 : size),
  };
}
