/** Evaluates what stands behind the first word of a line of text, as the model does. */
import { Source } from '../../grammar/source.ts';
import type { Finding } from '../../server/model/finding.ts';
import { isExpression } from '../../server/model/phrase.ts';
import { type Ticks, ticks } from '../../server/model/ticks.ts';
import { evaluate, type Value } from '../../server/model/values.ts';
import { topWords } from '../../server/model/vocabulary.ts';

export interface Evaluated {
  readonly value: Value | undefined;
  readonly findings: readonly Finding[];
}

/** `names` are lengths in ticks by their dotted path. Throws where the text is not one expression: a mistake of the test. */
export function evaluated(text: string, names: Readonly<Record<string, number>> = {}): Evaluated {
  const [statement, ...others] = [...new Source('a', `at ${text}`, topWords).statements()];
  const [item, ...more] = statement?.items ?? [];
  if (!statement || others.length > 0 || !isExpression(item) || more.length > 0) {
    throw new Error(`not one expression: ${text}`);
  }
  const findings: Finding[] = [];
  const value = evaluate(item, statement, {
    lookUp: (path) => {
      const length = names[path.words.map((word) => word.text).join('.')];
      return length === undefined ? undefined : { kind: 'length', ticks: ticks(length) };
    },
    report: (found) => findings.push(found),
    system: () => 'inches',
  });
  return { value, findings };
}

/** The length a text says. Throws where it says none. */
export function lengthOf(text: string, names: Readonly<Record<string, number>> = {}): Ticks {
  const { value, findings } = evaluated(text, names);
  if (value?.kind !== 'length') throw new Error(`no length: ${text} ${findings.map((f) => f.message).join(' ')}`);
  return value.ticks;
}

/** The number a text says in the base of its dimension: kg, N, Pa, N/m, kg/m2, kg/m, degrees, days, hundredths of money. */
export function amountOf(text: string): { readonly dimension: string; readonly amount: number } {
  const { value } = evaluated(text);
  if (value?.kind !== 'number') throw new Error(`no number: ${text}`);
  return { dimension: value.dimension, amount: value.amount };
}
