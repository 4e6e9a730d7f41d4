/**
 * Random input is the same in every run, so that a red run tells of a change and not of luck. STORYPOLE_SEED=random
 * looks for what nobody has met yet; a whole number repeats what it found.
 */
import { configureGlobal } from 'fast-check';

const asked = process.env.STORYPOLE_SEED ?? '20261128';
if (asked !== 'random' && !/^-?\d+$/.test(asked))
  throw new Error(`STORYPOLE_SEED is "${asked}"; it is a whole number, or "random".`);
if (asked !== 'random') configureGlobal({ seed: Number(asked) });
