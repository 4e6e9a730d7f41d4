/** The next turn of the event loop: later than messages that have already arrived, wherever the server runs. */

/** Does something in the next turn, unless the answer is called before. */
export const nextTurn: (run: () => void) => () => void = typeof setImmediate === 'function' ? byImmediate : byChannel();

function byImmediate(run: () => void): () => void {
  const next = setImmediate(run);
  return () => clearImmediate(next);
}

/** A browser has no such thing, and holds timers up that follow one another; a message to oneself it does not. */
function byChannel(): (run: () => void) => () => void {
  const { port1: here, port2: there } = new MessageChannel();
  let waiting: { run: (() => void) | undefined }[] = [];
  here.addEventListener('message', () => {
    const [first, ...rest] = waiting;
    waiting = rest;
    first?.run?.();
  });
  here.start();
  return (run) => {
    const own: { run: (() => void) | undefined } = { run };
    waiting.push(own);
    there.postMessage(null);
    return () => {
      own.run = undefined;
    };
  };
}
