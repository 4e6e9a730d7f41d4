/**
 * What nobody caught. Everything that is asked is answered inside of a net of its own (`ask` in connection.ts), so what
 * gets here is a fault of ours or of a library: it is told with what was asked last, on standard error and to the
 * client, and the server goes on, since what it keeps is made anew from texts. One that fails again and again
 * ends, with a status that is not 0, for its client to start another.
 */

/** So many within so many milliseconds are too many. */
const most = 20;
const within = 10_000;

export interface LastResort {
  /** Told to the client too, once it can be. */
  tell: (what: string) => void;
}

/** Takes charge of what nobody caught in this process. `last` tells what was asked last. */
export function lastResort(last: () => string): LastResort {
  const times: number[] = [];
  const own: LastResort = { tell: () => undefined };
  const caught = (error: unknown): void => {
    const said = error instanceof Error ? (error.stack ?? error.message) : String(error);
    const what = `A fault that nobody caught, ${last()}: ${said}`;
    console.error(what);
    const now = performance.now();
    times.push(now);
    if (times.filter((time) => now - time < within).length > most) {
      console.error(`More than ${most} such faults within ${within / 1000} s: the server ends.`);
      process.exit(1);
    }
    if (times.length > most) times.shift();
    try {
      own.tell(what);
    } catch {
      // There is nobody to tell.
    }
  };
  // A command ends by a fault; a server does not.
  process.removeAllListeners('uncaughtException');
  process.on('uncaughtException', caught);
  process.on('unhandledRejection', caught);
  return own;
}
