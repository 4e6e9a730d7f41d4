/**
 * Brings projects up to date in small slices, giving way to messages between two of them. An edit
 * starts it again at once; what was done of the earlier run is kept by the project.
 */
import type { Project, Reached } from '../model/project.ts';
import { nextTurn } from './turn.ts';

export interface Refresher {
  /** Something changed. */
  readonly restart: () => void;
  /** Resolves when everything is up to date; at once when it is. */
  readonly settled: () => Promise<void>;
  readonly stop: () => void;
}

export interface RefresherOptions {
  /** Every project, those that people look at first. */
  readonly projects: () => Iterable<Project>;
  /** Files that go before the others. */
  readonly isFirst: (file: string) => boolean;
  /** So far it is up to date, and there is more to do. */
  readonly onReached?: (reached: Reached) => void;
  /** How many declarations are still to be computed; told between two slices, and once with 0. */
  readonly onLeft?: (declarations: number) => void;
  /** Everything is up to date. */
  readonly onFresh: () => void;
  readonly onError: (error: unknown) => void;
}

/** Milliseconds of work before messages are looked at. */
const slice = 5;

export function createRefresher({
  projects,
  isFirst,
  onReached,
  onLeft,
  onFresh,
  onError,
}: RefresherOptions): Refresher {
  /** Takes back what is to be done next. */
  let next: (() => void) | undefined;
  let work: Generator<Reached | undefined, void> | undefined;
  let waiting: (() => void)[] = [];

  function* everything(): Generator<Reached | undefined, void> {
    for (const project of projects()) if (!project.isFresh) yield* project.refresh(isFirst);
  }

  function run(): void {
    next = undefined;
    try {
      work ??= everything();
      const until = performance.now() + slice;
      do {
        const { done, value } = work.next();
        if (value) onReached?.(value);
        if (!done) continue;
        work = undefined;
        onFresh();
        break;
      } while (performance.now() < until);
    } catch (error) {
      work = undefined;
      onError(error);
    }
    if (work) next = nextTurn(run);
    else release();
    onLeft?.(work ? declarationsLeft() : 0);
  }

  function declarationsLeft(): number {
    let left = 0;
    for (const { declarationsLeft } of projects()) left += declarationsLeft;
    return left;
  }

  function release(): void {
    const waiters = waiting;
    waiting = [];
    for (const go of waiters) go();
  }

  return {
    restart() {
      next?.();
      work = undefined;
      // One turn later than messages that have already arrived, so that a burst of edits is taken as one.
      next = nextTurn(() => {
        next = nextTurn(run);
      });
    },
    settled: () => (next ? new Promise((resolve) => waiting.push(resolve)) : Promise.resolve()),
    stop() {
      next?.();
      next = undefined;
      work = undefined;
      release();
    },
  };
}
