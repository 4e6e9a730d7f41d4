/** All that is fuzzed. */
import type { Target } from './target.ts';
import { formatter } from './targets/formatter.ts';
import { grammar } from './targets/grammar.ts';
import { incremental } from './targets/incremental.ts';
import { project } from './targets/project.ts';
import { protocol } from './targets/protocol.ts';
import { readers } from './targets/readers.ts';
import { survey } from './targets/survey.ts';

export const targets: readonly Target[] = [grammar, formatter, project, incremental, protocol, survey, readers];

export const targetNames: readonly string[] = targets.map(({ name }) => name);

/** Throws where there is none of that name: a mistake of whoever asks. */
export function targetNamed(name: string): Target {
  const found = targets.find((target) => target.name === name);
  if (!found) throw new Error(`there is no target "${name}"`);
  return found;
}
