/** Declarations that stand by themselves, computed: materials, garments, stock, policies, loose parts. */

import { headPlace, placeOf, sliceOf } from '../../grammar/tree.ts';
import { circleFinding, longChain } from './blueprint.ts';
import { declarationAt, lengthIn, plainContext, quantityIn } from './context.ts';
import { boardOf, checkCurrency, garmentOf, hardwareOf, layDemands, type Made, rodOf, stockOf } from './declared.ts';
import { type Extra, extraOf, type Spare } from './extras.ts';
import { type Finding, finding } from './finding.ts';
import { limits } from './limits.ts';
import { type Board, type Garment, type Hardware, noDemands, type RodMaterial, type Stock } from './materials.ts';
import { type Declared, type Names, namesWithin } from './names.ts';
import { didYouMean, nearFixes } from './near-names.ts';
import { nearestOnes } from './nearest.ts';
import { child, childrenOf, dotted, pathIn } from './reading.ts';
import * as rules from './rules.ts';
import type { ProjectSettings } from './settings.ts';
import type { Trace } from './trace.ts';

export type Computed = { readonly declared: Declared; readonly findings: readonly Finding[] } & (
  | { readonly kind: 'board'; readonly value: Board }
  | { readonly kind: 'rod'; readonly value: RodMaterial }
  | { readonly kind: 'hardware'; readonly value: Hardware }
  | { readonly kind: 'garment'; readonly value: Garment }
  | { readonly kind: 'stock'; readonly value: Stock }
  | { readonly kind: 'extra'; readonly value: Extra | Spare | undefined }
  | { readonly kind: 'other' }
);

export function computeDeclared(
  declared: Declared,
  names: Names,
  settings: ProjectSettings,
  trace: Trace,
  known: { readonly ruleIds: ReadonlySet<string>; readonly limitNames: ReadonlySet<string> },
): Computed {
  const keep = <T>(made: Made<T>): { value: T; findings: readonly Finding[]; declared: Declared } => {
    trace.copy(made.trace);
    return { value: made.value, findings: made.findings, declared };
  };
  switch (declared.kind) {
    case 'board':
      return nonsense({ kind: 'board', ...keep(boardOf(declared, names)) });
    case 'rod':
      return nonsense({ kind: 'rod', ...keep(rodOf(declared, names)) });
    case 'hardware':
      return packed({ kind: 'hardware', ...keep(hardwareOf(declared, names)) }, settings);
    case 'garment':
      return { kind: 'garment', ...keep(garmentOf(declared, names)) };
    case 'stock':
      return { kind: 'stock', ...keep(stockOf(declared, names, settings.currency)) };
    case 'extra':
      return { kind: 'extra', ...keep(extraOf(declared, names, settings)) };
    case 'policy':
      return { kind: 'other', declared, findings: policyFindings(declared, names, trace, known) };
    case 'survey':
      return { kind: 'other', declared, findings: surveyFindings(declared, names, trace) };
    case 'accept':
      return { kind: 'other', declared, findings: acceptFindings(declared, known) };
    default:
      return { kind: 'other', declared, findings: [] };
  }
}

/** What a pack costs is said in the project's currency. */
function packed(made: Extract<Computed, { kind: 'hardware' }>, { currency }: ProjectSettings): Computed {
  const findings = [...made.findings];
  for (const pack of childrenOf(made.declared.reading, 'pack')) checkCurrency(pack, currency, (f) => findings.push(f));
  return { ...made, findings };
}

/** Sizes of a material that nothing can be cut from, and stiffnesses that nothing has. */
function nonsense(made: Extract<Computed, { kind: 'board' | 'rod' }>): Computed {
  const { value, declared } = made;
  const findings = [...made.findings];
  const at = (word: string) => headPlace((child(declared.reading, word) ?? declared.reading).statement);
  const none = (word: string, amount: number | undefined): void => {
    if (amount !== 0) return;
    findings.push(
      finding(rules.outOfBounds, at(word), `The ${word} of ${value.kind} "${declared.name}" is nothing.`, {
        advice: `Give its ${word} as it is bought, or leave the statement out.`,
      }),
    );
  };
  for (const word of ['stiffness', 'strength'] as const) none(word, value[word]);
  none('shear-stiffness', value.shearStiffness);
  if (value.kind === 'board') {
    none('thickness', value.thickness);
    none('depth', value.depth);
  } else {
    none('diameter', value.diameter);
    none('tube', value.tube);
    if (value.tube !== undefined && value.diameter !== undefined && 2 * value.tube > value.diameter)
      findings.push(
        finding(
          rules.outOfBounds,
          at('tube'),
          `The wall of tube "${declared.name}" is more than half of its diameter.`,
          {
            advice: 'Leave `tube` out where the rod is solid.',
          },
        ),
      );
  }
  return { ...made, findings };
}

function policyFindings(
  declared: Declared,
  names: Names,
  trace: Trace,
  known: { readonly ruleIds: ReadonlySet<string>; readonly limitNames: ReadonlySet<string> },
): Finding[] {
  const findings: Finding[] = [];
  const { reading } = declared;
  const unknown = (word: 'limit' | 'treat', slot: 'limit' | 'rule', all: ReadonlySet<string>, what: string): void => {
    for (const r of childrenOf(reading, word)) {
      const path = pathIn(r, slot);
      if (!path || all.has(dotted(path))) continue;
      const near = nearestOnes(dotted(path), all);
      const place = placeOf(r.statement, path);
      findings.push(
        finding(rules.nameNotKnown, place, `There is no ${what} "${dotted(path)}".`, {
          advice: didYouMean(near) ?? `Known are ${[...all].slice(0, 12).join(', ')}${all.size > 12 ? ', ...' : ''}.`,
          fixes: nearFixes(place, near),
        }),
      );
    }
  };
  unknown('limit', 'limit', known.limitNames, 'limit');
  unknown('treat', 'rule', known.ruleIds, 'rule');
  const context = plainContext(names, trace, (f) => findings.push(f));
  for (const r of childrenOf(reading, 'limit')) {
    const lengths = ['least', 'most', 'highest', 'from', 'to'].map((slot) => lengthIn(r, slot, context));
    const [least, most] = [lengths[0] ?? lengths[3], lengths[1] ?? lengths[2] ?? lengths[4]];
    if (least !== undefined && most !== undefined && least > most)
      findings.push(
        finding(rules.outOfBounds, headPlace(r.statement), 'The least is more than the most.', {
          advice: 'Write the lesser length first.',
          comparison: {
            what: `least of ${sliceOf(r.statement, r.slots.limit?.[0] ?? r.statement.word)}`,
            measured: { ticks: least },
            relation: 'at most',
            limit: { ticks: most },
          },
        }),
      );
  }
  layDemands(declared, noDemands, context);
  for (const word of ['deflection', 'creep', 'anchor-factor'] as const) {
    for (const r of childrenOf(reading, word)) {
      const value = quantityIn(
        r,
        'value',
        'count',
        plainContext(names, trace, () => undefined),
      );
      if (value === undefined || value >= 1) continue;
      findings.push(
        finding(rules.outOfBounds, headPlace(r.statement), `${value} is less than 1.`, {
          advice: {
            deflection: 'It is the part of the span that may sag: 144 for a 144th.',
            creep: 'It multiplies a deflection: 1 for none.',
            'anchor-factor': 'It divides a rating: 1 for the rating as it is.',
          }[word],
        }),
      );
    }
  }
  // A circle is named whole, once for each of its policies.
  const circle: Declared[] = [declared];
  for (let current = declared; ; ) {
    const base = pathIn(current.reading, 'base');
    if (!base) break;
    const next = declarationAt(
      base,
      ['policy'],
      current.statement,
      current === declared ? context : plainContext(namesWithin(current, names), trace, () => undefined),
    );
    if (!next) break;
    if (next.statement === declared.statement) {
      findings.push(circleFinding(declared, circle));
      break;
    }
    if (circle.some((d) => d.statement === next.statement)) break;
    if (circle.length >= limits.longestChain.most) {
      findings.push(longChain(declared));
      break;
    }
    circle.push(next);
    current = next;
  }
  return findings;
}

function surveyFindings(declared: Declared, names: Names, trace: Trace): Finding[] {
  const findings: Finding[] = [];
  const path = pathIn(declared.reading, 'unit');
  const unit = declarationAt(
    path,
    ['unit'],
    declared.statement,
    plainContext(names, trace, (f) => findings.push(f)),
  );
  if (path && unit && unit.home !== names)
    findings.push(
      finding(
        rules.nameNotKnown,
        placeOf(declared.statement, path),
        `Unit "${dotted(path)}" is built in another project, so that nothing here is made for what was measured.`,
        { advice: 'Write the survey in that project; or declare a unit of the same template here, and survey that.' },
      ),
    );
  return findings;
}

function acceptFindings(declared: Declared, known: { readonly ruleIds: ReadonlySet<string> }): Finding[] {
  const path = pathIn(declared.reading, 'rule');
  if (!path || known.ruleIds.has(dotted(path))) return [];
  const near = nearestOnes(dotted(path), known.ruleIds);
  const place = placeOf(declared.statement, path);
  const thing = pathIn(declared.reading, 'place');
  if (thing && known.ruleIds.has(dotted(thing)))
    return [
      finding(rules.nameNotKnown, place, `"${dotted(path)}" is no rule, and "${dotted(thing)}" is one.`, {
        advice: `Did you mean accept ${dotted(thing)} at ${dotted(path)}?`,
        fixes: [
          {
            title: `Write ${dotted(thing)} at ${dotted(path)}`,
            edits: [
              { place, text: dotted(thing) },
              { place: placeOf(declared.statement, thing), text: dotted(path) },
            ],
          },
        ],
      }),
    ];
  return [
    finding(rules.nameNotKnown, place, `There is no rule "${dotted(path)}".`, {
      advice: didYouMean(near) ?? 'The id of a rule is shown with each finding.',
      fixes: nearFixes(place, near),
    }),
  ];
}
