/** Two zones that both begin at the left end of their wall, because nothing says after what the second one stands. */
import { headPlace, offsetOf, type Statement } from '../../grammar/tree.ts';
import { type Comparison, type Finding, finding } from './finding.ts';
import * as rules from './rules.ts';
import type { Label } from './run-labels.ts';
import type { ZoneSpec } from './spec.ts';
import type { Ticks } from './ticks.ts';

/** What zones stand along. */
export interface Along {
  readonly name: string;
  /** `the back wall`. */
  readonly said: string;
  /** Those of templates that are built on before those of what is built on them. */
  readonly zones: readonly ZoneSpec[];
}

export function startsTogether(labels: readonly Label[], stretch: Along, excess: Ticks): Finding | undefined {
  const starting = labels.filter(({ role, place }) => role === 'start' && saysNoStart(place.statement));
  const [first, second, ...more] = starting;
  if (!first || !second || more.length > 0) return undefined;
  const causes = { parameters: [...new Set(labels.flatMap((l) => l.parameters))], survey: false };
  const comparison: Comparison = {
    what: 'width that both take up',
    measured: { ticks: excess },
    relation: 'at most',
    limit: { ticks: 0 as Ticks },
  };
  return bothBegin([first.place.statement, second.place.statement], stretch, { causes, comparison });
}

/** That neither of two zones says where else it begins; undefined where one does, in whatever way. */
export function bothBegin(
  statements: readonly [Statement, Statement],
  stretch: Along,
  more: Pick<Finding, 'causes' | 'comparison'> = {},
): Finding | undefined {
  const [before, after] = inOrder(statements, stretch);
  if (!before || !after || !saysNoStart(before) || !saysNoStart(after)) return undefined;
  const [name, other] = [nameOf(before), nameOf(after)];
  if (name === undefined || other === undefined) return undefined;
  const end = after.head.end;
  return finding(
    rules.widthsConflict,
    headPlace(after),
    `Zones "${name}" and "${other}" both begin at the left end of ${stretch.said}: neither says where else it begins.`,
    {
      advice: `Write after which zone it stands: \`after ${name}\`.`,
      related: [{ place: headPlace(before), message: `Zone "${name}" begins there too.` }],
      fixes: [
        {
          title: `Write after ${name}`,
          edits: [{ place: { statement: after, start: end, end }, text: ` after ${name}` }],
        },
      ],
      about: stretch.name,
      ...more,
    },
  );
}

/** As they are written; in several templates, what is built on before what is built on it. Those of other stretches are left out. */
function inOrder(statements: readonly [Statement, Statement], { zones }: Along): readonly Statement[] {
  const along = zones.map(({ place }) => place.statement).filter((statement) => statements.includes(statement));
  const [a, b] = along;
  return a && b && a.parent === b.parent ? along.sort((one, other) => offsetOf(one) - offsetOf(other)) : along;
}

/** `zone b on back`, and nothing of where. */
function saysNoStart({ word, items }: Statement): boolean {
  if (word.text !== 'zone' && word.text !== 'gap') return false;
  const [, on] = items;
  return items.length === 1 || (items.length === 3 && on?.kind === 'path' && on.words[0]?.text === 'on');
}

function nameOf({ items }: Statement): string | undefined {
  const [first] = items;
  return first?.kind === 'path' && first.words.length === 1 ? first.words[0]?.text : undefined;
}
