/** As much of a browser's workers as we use, so that the types of a whole page need not be known everywhere. */

export interface WebWorker {
  postMessage(message: unknown): void;
  terminate(): void;
  onmessage: ((event: { readonly data: unknown }) => void) | null;
  onerror: ((event: { readonly message?: string; preventDefault?(): void }) => void) | null;
}

/** What a script finds around itself in a worker, and whether it finds it at all. */
export interface WorkerScope {
  readonly Worker?: new (address: string) => WebWorker;
  readonly location?: { readonly href: string };
  postMessage(message: unknown): void;
  onmessage: ((event: { readonly data: unknown }) => void) | null;
}

export const scope = globalThis as unknown as WorkerScope;

/** What the planner's worker says once it runs; where an error comes first, there are no workers to be had. */
export const ready = 'ready';
