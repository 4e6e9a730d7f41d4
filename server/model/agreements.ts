/** Findings that somebody has agreed to, by `accept`: they go, as long as they are found. */
import { headPlace, type Path, placeOf, type Statement } from '../../grammar/tree.ts';
import { removed } from './edits.ts';
import { type Finding, finding } from './finding.ts';
import { calledInProject, type Declared, type Names } from './names.ts';
import { didYouMean, nearFixes } from './near-names.ts';
import { dotted, pathIn } from './reading.ts';
import * as rules from './rules.ts';

export interface Agreement {
  readonly declared: Declared;
  readonly rule: string;
  /** Path of a unit or template, or of a thing in it: `A-101.shirts`, `trade.tall` of a library. */
  readonly at: string;
}

/** What an `accept` agrees to; nothing where it cannot be read. */
export function agreementOf(declared: Declared): Agreement[] {
  const rule = pathIn(declared.reading, 'rule');
  const place = pathIn(declared.reading, 'place');
  return rule && place ? [{ declared, rule: dotted(rule), at: dotted(place) }] : [];
}

/** The place, with the template of a library called as what is found in it calls that, whichever of its names is written. */
function placeOfAgreement({ at, declared }: Agreement): string {
  const names = declared.home;
  const [first = ''] = at.split('.', 1);
  if (!names.libraries.has(first)) return at;
  for (let end = at.indexOf('.', first.length + 1); ; end = at.indexOf('.', end + 1)) {
    const name = end < 0 ? at : at.slice(0, end);
    const template = names.find('template', name);
    if (template) return calledInProject(template) + at.slice(name.length);
    if (end < 0) return at;
  }
}

/** The first that agrees to a finding of a unit or a template. Errors cannot be agreed to: what they name cannot be built. */
export function agreedBy(
  f: Finding,
  unit: string | undefined,
  template: Declared | undefined,
  agreements: readonly Agreement[],
): Agreement | undefined {
  if (f.severity === 'error') return undefined;
  const holders = [unit, template && calledInProject(template)];
  return agreements.find((agreement) => {
    if (agreement.rule !== f.rule.id) return false;
    const at = placeOfAgreement(agreement);
    return holders.some((holder) => holder !== undefined && reaches(at, holder, f));
  });
}

/** The place is all of what holds the finding, or that in it which the finding is about, or what that lies in. */
function reaches(at: string, holder: string, { about }: Finding): boolean {
  if (at === holder) return true;
  if (!at.startsWith(`${holder}.`)) return false;
  const rest = at.slice(holder.length + 1);
  return about === rest || about?.startsWith(`${rest}.`) === true;
}

/** An agreement to what is not found. */
export function unmatched({ declared, rule }: Agreement): Finding {
  const { statement, reading, home } = declared;
  const place = pathIn(reading, 'place');
  const nowhere = place && notThere(place, statement, home);
  return finding(
    rules.acceptUnmatched,
    headPlace(statement),
    nowhere?.message ?? `Nothing of rule "${rule}" is found there that could be agreed to.`,
    {
      advice: nowhere?.advice ?? 'Remove this line, or correct the rule or the place.',
      fixes: [...(nowhere?.fixes ?? []), { title: 'Remove this "accept"', edits: [removed(statement)], byHand: true }],
    },
  );
}

const holders = ['unit', 'template'] as const;

/** What is wrong with the beginning of a place, where nothing has that name. */
function notThere(
  path: Path,
  statement: Statement,
  names: Names,
): Pick<Finding, 'message' | 'advice' | 'fixes'> | undefined {
  const [first] = path.words;
  if (!first || reachable(dotted(path), names)) return undefined;
  // What a library declares is named behind the name of the library.
  const words = path.words.slice(0, names.libraries.has(first.text) ? 2 : 1);
  const name = words.map(({ text }) => text).join('.');
  const named = { start: first.start, end: (words.at(-1) ?? first).end };
  const near = [...new Set(holders.flatMap((kind) => names.nearestTo(kind, name)))];
  return {
    message: `There is no unit or template "${name}" whose findings could be agreed to.`,
    advice: didYouMean(near) ?? 'Remove this line, or correct the place.',
    fixes: nearFixes(placeOf(statement, named), near),
  };
}

/** A unit or template is called so, or by the beginning of it. */
function reachable(at: string, names: Names): boolean {
  for (let end = at.length; end > 0; end = at.lastIndexOf('.', end - 1)) {
    const name = at.slice(0, end);
    if (holders.some((kind) => names.find(kind, name))) return true;
  }
  return false;
}
