/** Looks into a running server through the inspector: memory in use, after a collection where asked, and snapshots. */
import { createWriteStream } from 'node:fs';
import type { HeapSpaceInfo } from 'node:v8';

export interface Memory {
  /** Of the process, with its threads, in megabytes. */
  readonly resident: number;
  /** Of the main thread's heap after a collection, in megabytes. */
  readonly heap: number;
  /** Machine code and what belongs to it, of all that is counted in `heap`: it grows while the engine learns what is run often. */
  readonly code: number;
  /** Outside of the heap: buffers. */
  readonly external: number;
  /** Processor time since its start, in milliseconds. */
  readonly processor: number;
}

export interface Inspector {
  readonly memory: () => Promise<Memory>;
  readonly snapshot: (file: string) => Promise<void>;
  readonly close: () => void;
}

const megabyte = 1024 * 1024;

/** Of V8: what is run, and the bytes that it is made of. */
const codeSpaces: ReadonlySet<string> = new Set([
  'code_space',
  'code_large_object_space',
  'trusted_space',
  'trusted_large_object_space',
]);

/** `address` is what the process writes to standard error when it is started with `--inspect=0`. */
export async function inspect(address: string): Promise<Inspector> {
  const socket = new WebSocket(address);
  await new Promise<void>((resolve, reject) => {
    socket.onopen = () => resolve();
    socket.onerror = () => reject(new Error(`no inspector at ${address}`));
  });
  let last = 0;
  const waiting = new Map<number, (result: unknown) => void>();
  let chunk: ((text: string) => void) | undefined;
  socket.onmessage = ({ data }) => {
    const message = JSON.parse(String(data)) as { id?: number; result?: unknown; method?: string; params?: never };
    if (message.method === 'HeapProfiler.addHeapSnapshotChunk')
      chunk?.((message.params as unknown as { chunk: string }).chunk);
    if (message.id === undefined) return;
    waiting.get(message.id)?.(message.result);
    waiting.delete(message.id);
  };
  const ask = <R>(method: string, params: object = {}): Promise<R> =>
    new Promise((resolve) => {
      const id = ++last;
      waiting.set(id, resolve as (result: unknown) => void);
      socket.send(JSON.stringify({ id, method, params }));
    });

  return {
    async memory() {
      await ask('HeapProfiler.collectGarbage');
      const { result } = await ask<{ result: { value: string } }>('Runtime.evaluate', {
        expression: `JSON.stringify({
          ...process.memoryUsage(),
          ...process.cpuUsage(),
          spaces: process.getBuiltinModule('v8').getHeapSpaceStatistics(),
        })`,
      });
      const used = JSON.parse(result.value) as NodeJS.MemoryUsage & NodeJS.CpuUsage & { spaces: HeapSpaceInfo[] };
      const code = used.spaces.filter(({ space_name }) => codeSpaces.has(space_name));
      return {
        resident: used.rss / megabyte,
        heap: used.heapUsed / megabyte,
        code: code.reduce((sum, { space_used_size }) => sum + space_used_size, 0) / megabyte,
        external: used.external / megabyte,
        processor: (used.user + used.system) / 1000,
      };
    },
    async snapshot(file) {
      const out = createWriteStream(file);
      chunk = (text) => out.write(text);
      await ask('HeapProfiler.takeHeapSnapshot', { reportProgress: false });
      chunk = undefined;
      await new Promise((resolve) => out.end(() => resolve(undefined)));
    },
    close: () => socket.close(),
  };
}
