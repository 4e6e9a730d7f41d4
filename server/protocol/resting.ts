/** A planner that goes when it has had nothing to do for a while: one that waits takes 50 to 70 MB all day. */
import type { PlanThread } from './planning.ts';

/** Milliseconds. Long enough to be there between two looks at a price, as its start takes most of a tenth of a second. */
const longest = 10_000;

/** The same planner, let go of when nothing was asked for so long after an answer. The next question starts it again. */
export function resting(thread: PlanThread, after = longest): PlanThread {
  let timer: ReturnType<typeof setTimeout> | undefined;
  function rest(): void {
    clearTimeout(timer);
    timer = setTimeout(thread.end, after);
    // Nothing is kept alive by it; in a browser a timer is a number, and keeps nothing.
    if (typeof timer === 'object') timer.unref();
  }
  return {
    ask(question, answer) {
      clearTimeout(timer);
      thread.ask(question, (answered) => {
        // Whoever hears the answer may ask the next question at once.
        rest();
        answer(answered);
      });
    },
    cancel: thread.cancel,
    end() {
      clearTimeout(timer);
      thread.end();
    },
  };
}
