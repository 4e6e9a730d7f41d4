/** How far a long run has come: a bar on a terminal's standard error, and nothing where that is none. */

export interface Progress {
  readonly at: (done: number) => void;
  /** Takes the bar away. */
  readonly end: () => void;
}

const width = 30;
/** Milliseconds between two bars: more is only flicker. */
const pause = 100;

export function progressOf(of: number, what: string, stream: NodeJS.WriteStream = process.stderr): Progress {
  if (!stream.isTTY || of < 2) return { at: () => undefined, end: () => undefined };
  let last = 0;
  let isShown = false;
  return {
    at: (done) => {
      const now = performance.now();
      if (now - last < pause && done < of) return;
      last = now;
      isShown = true;
      const full = Math.round((done / of) * width);
      stream.write(`\r[${'#'.repeat(full)}${'.'.repeat(width - full)}] ${done} of ${of} ${what}`);
    },
    end: () => {
      if (isShown) stream.write('\r\u001b[K');
    },
  };
}
