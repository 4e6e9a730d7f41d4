/** Values that can be said to fit at a place: those that mend a finding there, the ends of a range, lengths from stock. */

import type { Item, Statement } from '../../grammar/tree.ts';
import { fixesThatHold } from '../checks/alternatives.ts';
import type { Finding } from '../model/finding.ts';
import { memo } from '../model/memo.ts';
import { calledInProject } from '../model/names.ts';
import type { ParameterType } from '../model/parameter-types.ts';
import type { Project } from '../model/project.ts';
import { child, dotted, pathIn, readingAt } from '../model/reading.ts';
import * as rules from '../model/rules.ts';
import { showLength } from '../model/show.ts';
import { stockByMaterial } from '../model/stock-held.ts';
import { type Ticks, ticks } from '../model/ticks.ts';
import { giverOf } from './locate.ts';
import type { Offer } from './offer.ts';
import { type Parameter, parametersAt } from './parameters.ts';
import type { Snapshot } from './snapshot.ts';
import { infoOf } from './stands.ts';
import { lineageAt } from './target.ts';

/** So many findings at a statement are asked what mends them: each is tried on all that rests on it. */
const mostFindings = 3;

type Found = ReadonlyMap<Statement, readonly Finding[]>;

const kept = new WeakMap<Project['moment'], Found>();

/** Findings by the statements that their fixes change. */
function fixable(project: Project): Found {
  return memo(kept, project.moment, () => {
    const byStatement = new Map<Statement, Finding[]>();
    for (const finding of project.findings())
      for (const statement of new Set(finding.fixes.flatMap(({ edits }) => edits.map((e) => e.place.statement))))
        memo(byStatement, statement, (): Finding[] => []).push(finding);
    return byStatement;
  });
}

/**
 * What can be written instead of an item so that a finding there is gone and no new one comes. Known once the
 * project is up to date; a unit of measure that is missing is offered by itself.
 */
export function valuesThatHold({ project }: Snapshot, statement: Statement, item: Item): Offer[] {
  if (!project.isFresh) return [];
  const here = (fixable(project).get(statement) ?? []).filter(
    ({ rule }) => rule !== rules.unitMissing && rule !== rules.unitNotKnown,
  );
  return here.slice(0, mostFindings).flatMap((finding) =>
    fixesThatHold(project, finding).flatMap(({ edits, whole }): Offer[] => {
      const [edit] = edits;
      if (!edit || edits.length > 1) return [];
      const { place, text } = edit;
      const isHere = place.statement === statement && place.start === item.start && place.end === item.end;
      if (!isHere || text === '') return [];
      return [
        {
          kind: 'value',
          label: text,
          text,
          detail: whole ? `mends ${finding.rule.id}` : `mends ${finding.rule.id}, as far as was looked at`,
          doc: () => `${finding.message}${finding.advice ? `\n\n${finding.advice}` : ''}`,
          rank: 0,
        },
      ];
    }),
  );
}

/** The default of a parameter, and the least and most that its range allows. */
export function valuesOfParameter(snapshot: Snapshot, trail: readonly Statement[], { name }: Parameter): Offer[] {
  const [template] = lineageAt(snapshot, trail);
  if (!template) return [];
  const info = infoOf(template);
  const parameter = info.parameters.get(name);
  if (!parameter) return [];
  const { show } = snapshot.project.settings;
  const range = info.ranges.get(name);
  const fallback = info.defaults.get(name);
  const offer = (text: string | undefined, detail: string): Offer[] =>
    text === undefined ? [] : [{ kind: 'value', label: text, text, detail, rank: 0 }];
  const amount = (n: number | undefined): string | undefined =>
    n === undefined ? undefined : amountText(parameter.type, n, (l) => showLength(l, show));
  return [
    ...(fallback?.kind === 'length' ? offer(amount(fallback.ticks), `default of ${name}`) : []),
    ...(fallback?.kind === 'number' ? offer(amount(fallback.amount), `default of ${name}`) : []),
    ...(fallback?.kind === 'text' ? offer(`"${fallback.text}"`, `default of ${name}`) : []),
    ...offer(amount(range?.least), `least of ${name}`),
    ...offer(amount(range?.most), `most of ${name}`),
  ];
}

/** As it can be written: what is shown as rounded cannot be. */
function amountText(type: ParameterType, amount: number, length: (l: Ticks) => string): string | undefined {
  if (type === 'count') return String(amount);
  if (type !== 'length') return undefined;
  const text = length(ticks(amount));
  return text.startsWith('~') ? undefined : text;
}

/** So many equal pieces of one board are offered. */
const mostPieces = 4;

/** For loose parts, what a board of their material gives in equal pieces without waste; for stock, the lengths of other stock. */
export function lengthsFromStock({ project }: Snapshot, trail: readonly Statement[]): Offer[] {
  const [top] = trail;
  const reading = top && readingAt(top, 'file');
  if (!reading || trail.length !== 2) return [];
  const { show, kerf, sawStep, endTrim } = project.settings;
  const held = stockByMaterial(project.computed('stock'));
  const offers = new Map<string, Offer>();
  const add = (length: number, detail: string): void => {
    const text = showLength(ticks(length), show);
    if (length > 0 && !text.startsWith('~') && !offers.has(text))
      offers.set(text, { kind: 'value', label: text, text, detail, rank: 1 });
  };
  if (reading.word === 'stock') {
    for (const { items } of held.values())
      for (const { length, material } of items) add(length, `a length of ${material}`);
    return [...offers.values()];
  }
  const given = ['board', 'rod'].flatMap((word) => child(reading, word) ?? [])[0];
  const path = given && (pathIn(given, 'board') ?? pathIn(given, 'rod'));
  if (reading.word !== 'extra' || !path) return [];
  const material = project.names.find('board', dotted(path)) ?? project.names.find('rod', dotted(path));
  const stock = (material && held.get(calledInProject(material))?.items) ?? [];
  const own = stock.filter(({ offcut }) => !offcut);
  for (let pieces = 1; pieces <= mostPieces; pieces++) {
    for (const { length } of own.toSorted((a, b) => b.length - a.length)) {
      const each = Math.floor((length - 2 * endTrim - (pieces - 1) * kerf) / pieces / sawStep) * sawStep;
      const board = showLength(length, show);
      add(each, pieces === 1 ? `the whole of ${board}` : `${pieces} from one of ${board}`);
    }
  }
  return [...offers.values()];
}

/** The parameter that a statement of a unit gives. */
export function parameterGiven(snapshot: Snapshot, trail: readonly Statement[]): Parameter | undefined {
  const word = trail.at(-1)?.word.text;
  if (!giverOf(trail.slice(0, -1))) return undefined;
  return parametersAt(snapshot, trail).find((p) => p.name === word);
}

/** The type of the parameter that a statement declares or gives a value to, as it is written. */
export function typeOfValue(snapshot: Snapshot, trail: readonly Statement[]): string | undefined {
  const statement = trail.at(-1);
  const isOwn = trail.length === 2 && trail[0]?.word.text === 'template' && statement?.word.text === 'parameter';
  const reading = isOwn ? readingAt(statement, 'template') : parameterGiven(snapshot, trail)?.reading;
  const type = reading && pathIn(reading, 'type');
  return type && dotted(type);
}
