/** What is in use, once what nobody holds any more is gone. */
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';

setFlagsFromString('--expose-gc');
const collect: () => void = runInNewContext('gc');

/** Lets go of what nothing holds but a weak reference: such a one lives on until the turn it was made in ends. */
export async function collectGarbage(): Promise<void> {
  await new Promise((go) => setImmediate(go));
  collect();
}

/** Bytes in use on the heap. */
export function heapInUse(): number {
  collect();
  return process.memoryUsage().heapUsed;
}
