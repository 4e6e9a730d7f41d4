/** Bytes of a file to text: UTF-8, or a message that says what is wrong and where. */
export type Decoded =
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'not-text'; readonly message: string };

const strict = new TextDecoder('utf-8', { fatal: true });
const lenient = new TextDecoder('utf-8');

export function decode(bytes: Uint8Array): Decoded {
  if ((bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff)) {
    return { kind: 'not-text', message: 'The file is saved as UTF-16, and .closet files are UTF-8.' };
  }
  const zero = bytes.indexOf(0);
  if (zero >= 0)
    return { kind: 'not-text', message: `The file is no text: it holds a zero byte in line ${lineAt(bytes, zero)}.` };
  try {
    return { kind: 'text', text: strict.decode(bytes) };
  } catch {
    const at = firstBad(bytes);
    const byte = bytes[at]?.toString(16).toUpperCase().padStart(2, '0') ?? '';
    return {
      kind: 'not-text',
      message: `The file is not UTF-8: the byte 0x${byte} in line ${lineAt(bytes, at)} is no letter in it. It was saved in another encoding.`,
    };
  }
}

function lineAt(bytes: Uint8Array, offset: number): number {
  let line = 1;
  for (let i = 0; i < offset; i++) if (bytes[i] === 10) line++;
  return line;
}

/** Offset of the first byte that is not UTF-8, by bisection on what decodes. */
function firstBad(bytes: Uint8Array): number {
  let low = 0;
  let high = bytes.length;
  // A cut inside a letter would look bad too, so cuts are judged by whether a bad mark comes before their last four bytes.
  while (low < high) {
    const middle = (low + high) >> 1;
    const text = lenient.decode(bytes.subarray(0, middle + 1), { stream: true });
    lenient.decode();
    if (text.includes('\ufffd')) high = middle;
    else low = middle + 1;
  }
  let start = Math.min(low, bytes.length - 1);
  // The decoder tells a broken letter at the byte after it.
  while (start > 0 && (bytes[start] as number) < 0x80) start--;
  return start;
}
