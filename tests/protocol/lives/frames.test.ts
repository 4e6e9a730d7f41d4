/**
 * Messages out of a stream of bytes. source: Language Server Protocol 3.17, base protocol.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createFrames, largestMessage } from '../../../server/protocol/frames.ts';
import { frame, frameOf } from './raw.ts';

/** What is read of some pieces: messages, and `!` with what is told of the rest. */
function read(...pieces: readonly (string | Uint8Array)[]): unknown[] {
  const found: unknown[] = [];
  const frames = createFrames({ onMessage: (m) => found.push(m), onFault: (why) => found.push(`! ${why}`) });
  for (const piece of pieces) frames.take(Buffer.from(piece as string));
  if (frames.pending() > 0) found.push(`${frames.pending()} bytes wait`);
  return found;
}

const messages = fc.array(
  fc.oneof(
    fc.record({ id: fc.nat(), text: fc.string({ unit: 'binary' }) }),
    fc.json().map((t) => JSON.parse(t)),
  ),
  {
    maxLength: 8,
  },
);

describe('frames', () => {
  it('are the same however the stream is cut', () => {
    fc.assert(
      fc.property(messages, fc.infiniteStream(fc.integer({ min: 1, max: 40 })), (sent, sizes) => {
        const all = Buffer.from(sent.map((m) => frame(m)).join(''));
        const pieces: Uint8Array[] = [];
        for (let at = 0; at < all.length; ) {
          const size = sizes.next().value as number;
          pieces.push(all.subarray(at, at + size));
          at += size;
        }
        expect(read(...pieces)).toEqual(JSON.parse(JSON.stringify(sent)));
      }),
    );
  });

  it('are found again behind any rubbish', () => {
    fc.assert(
      fc.property(fc.uint8Array({ minLength: 1, maxLength: 300 }), messages, (rubbish, sent) => {
        // What is told of the rubbish does not matter; the second message after it is always read.
        const found = read(
          Buffer.concat([
            rubbish,
            Buffer.from(frame('lost perhaps') + frame('found') + sent.map((m) => frame(m)).join('')),
          ]),
        );
        const read1 = found.indexOf('found');
        expect(read1).toBeGreaterThanOrEqual(0);
        expect(found.slice(read1 + 1)).toEqual(JSON.parse(JSON.stringify(sent)));
      }),
    );
  });

  it('know other lines of a head, and no order of them', () => {
    expect(read('Content-Type: application/vscode-jsonrpc; charset=utf-8\r\ncontent-length:  1\r\n\r\n1')).toEqual([1]);
    expect(read('Content-Length: 1\r\nContent-Type: a; charset=utf8\r\n\r\n1')).toEqual([1]);
  });

  it('count bytes, not letters', () => {
    expect(read(frame('🚪 é'))).toEqual(['🚪 é']);
  });

  const next = frame({ id: 2 });
  it.each([
    [
      'without a length',
      `Content-Type: json\r\n\r\n{"id":1}${next}`,
      [expect.stringMatching(/^! a head without/), expect.stringMatching(/left out/), { id: 2 }],
    ],
    [
      'with a length below 0',
      `Content-Length: -5\r\n\r\n{"id":1}${next}`,
      [expect.stringMatching(/"-5"/), expect.stringMatching(/left out/), { id: 2 }],
    ],
    [
      'with a length of words',
      `Content-Length: many\r\n\r\n{"id":1}${next}`,
      [expect.stringMatching(/"many"/), expect.stringMatching(/left out/), { id: 2 }],
    ],
    [
      'with an enormous length',
      `Content-Length: 99999999999999999999\r\n\r\n{"id":1}${next}`,
      [expect.stringMatching(/more than/), expect.stringMatching(/left out/), { id: 2 }],
    ],
    [
      'with a length too large by what follows',
      `Content-Length: 900\r\n\r\n{"id":1}${next}`,
      [expect.stringMatching(/^! a message of 900 bytes ends after 8/), { id: 2 }],
    ],
    [
      'with a length too large by a little',
      `Content-Length: 12\r\n\r\n{"id":1}${next}${next}`,
      [expect.stringMatching(/JSON/), expect.stringMatching(/left out|belong/), { id: 2 }],
    ],
    [
      'with a length too small',
      `Content-Length: 4\r\n\r\n{"id":1}${next}`,
      [expect.stringMatching(/JSON/), expect.stringMatching(/left out/), { id: 2 }],
    ],
    ['with a length of 0', `Content-Length: 0\r\n\r\n${next}`, [expect.stringMatching(/JSON/), { id: 2 }]],
    ['that hold no JSON', frameOf('{"id":') + next, [expect.stringMatching(/JSON/), { id: 2 }]],
    ['between bytes of nothing', `\u0000\u0001}}${next}`, [expect.stringMatching(/belong to no message/), { id: 2 }]],
  ])('%s are left out, and the next one is read', (_, bytes, found) => {
    expect(read(bytes)).toEqual(found);
    // A byte at a time it comes to the same messages.
    const single = read(...[...Buffer.from(bytes)].map((byte) => Uint8Array.of(byte)));
    expect(single.at(-1)).toEqual({ id: 2 });
  });

  it('that never begin keep nothing', () => {
    const frames = createFrames({ onMessage: () => undefined, onFault: () => undefined });
    for (let i = 0; i < 2000; i++) frames.take(Buffer.alloc(10_000, 'x'));
    expect(frames.pending()).toBeLessThan(20_000);
  });

  it('that end in the middle are known to wait', () => {
    expect(read(frame({ id: 1 }).slice(0, -3))).toEqual(['5 bytes wait']);
  });

  it('have a limit that is far above any message of an editor', () => {
    expect(read(`Content-Length: ${largestMessage}\r\n\r\n`)).toEqual([]);
  });
});
