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
  /** The same, when what that comes to has been told as well. */
  readonly told: () => Promise<void>;
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
  /** Everything is up to date. Who waits to ask about it goes before what is told of it unasked. */
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
  /** Takes back what is to be told next. */
  let telling: (() => void) | undefined;
  const asking = createWaitingRoom();
  const listening = createWaitingRoom();

  function* everything(): Generator<Reached | undefined, void> {
    for (const project of projects()) if (!project.isFresh) yield* project.refresh(isFirst);
  }

  function run(): void {
    next = undefined;
    let failed = false;
    try {
      work ??= everything();
      const until = performance.now() + slice;
      do {
        const { done, value } = work.next();
        if (value) onReached?.(value);
        if (!done) continue;
        work = undefined;
        break;
      } while (performance.now() < until);
    } catch (error) {
      work = undefined;
      failed = true;
      onError(error);
    }
    if (work) next = nextTurn(run);
    else {
      if (failed) listening.release();
      else if (asking.isEmpty) tell();
      else telling = nextTurn(tell);
      asking.release();
    }
    onLeft?.(work ? declarationsLeft() : 0);
  }

  function tell(): void {
    telling = undefined;
    try {
      onFresh();
    } catch (error) {
      onError(error);
    }
    listening.release();
  }

  function declarationsLeft(): number {
    let left = 0;
    for (const { declarationsLeft } of projects()) left += declarationsLeft;
    return left;
  }

  return {
    restart() {
      next?.();
      telling?.();
      telling = undefined;
      work = undefined;
      // One turn later than messages that have already arrived, so that a burst of edits is taken as one.
      next = nextTurn(() => {
        next = nextTurn(run);
      });
    },
    settled: () => (next ? asking.wait() : Promise.resolve()),
    told: () => (next || telling ? listening.wait() : Promise.resolve()),
    stop() {
      next?.();
      telling?.();
      next = undefined;
      telling = undefined;
      work = undefined;
      asking.release();
      listening.release();
    },
  };
}

/** Those who wait for something together. */
function createWaitingRoom() {
  let waiting: (() => void)[] = [];
  return {
    get isEmpty(): boolean {
      return waiting.length === 0;
    },
    wait: (): Promise<void> => new Promise((resolve) => waiting.push(resolve)),
    release(): void {
      const those = waiting;
      waiting = [];
      for (const go of those) go();
    },
  };
}
