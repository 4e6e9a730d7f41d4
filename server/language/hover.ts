/** What is told about the thing under the cursor, as Markdown. */

import { measureOf } from '../../grammar/measures.ts';
import { type Expression, type NumberLiteral, type Range, type Statement, sliceOf, topOf } from '../../grammar/tree.ts';
import { examplesIn } from '../model/examples.ts';
import { isExpression, shownPhrase } from '../model/phrase.ts';
import type { Unit } from '../model/project.ts';
import { dotted } from '../model/reading.ts';
import type { ProjectSettings } from '../model/settings.ts';
import { type Show, showInches, showLength, showMillimetres } from '../model/show.ts';
import { LONGEST, ticks } from '../model/ticks.ts';
import type { WordEntry } from '../model/vocabulary.ts';
import { cutListText } from '../sheets/cut-list.ts';
import { partCaution, unitCaution } from './caution.ts';
import { comparedFacts, workingAt } from './compared.ts';
import { factsOf } from './facts.ts';
import { itemAt, type Located, locate, type PathAt, pathAt, slotOf, touches } from './locate.ts';
import { looseFacts } from './loose-facts.ts';
import { commented, fenced } from './markdown.ts';
import { materialFacts } from './material-facts.ts';
import { rangeFacts } from './range-facts.ts';
import { limitText, ruleText } from './rule-text.ts';
import type { Snapshot } from './snapshot.ts';
import { surveyFacts } from './survey-facts.ts';
import { targetAt } from './target.ts';

export interface Hover extends Range {
  readonly text: string;
}

/** A cut list longer than this belongs on a sheet. */
const mostLines = 14;

export function hoverAt(snapshot: Snapshot, offset: number): Hover | undefined {
  const located = locate(snapshot, offset);
  if (!located) return undefined;
  const found =
    hoverOfNumber(snapshot, located) ??
    hoverOfRule(snapshot, located) ??
    hoverOfName(snapshot, located) ??
    hoverOfWord(snapshot, located) ??
    hoverOfRest(snapshot, located);
  return withWorking(snapshot, located, offset, found);
}

/** How a finding came about is told wherever it is underlined, whatever else there is to say. */
function withWorking(
  snapshot: Snapshot,
  located: Located,
  offset: number,
  found: Hover | undefined,
): Hover | undefined {
  const texts = workingAt(snapshot, offset, found?.text ?? '');
  if (texts.length === 0) return found;
  if (!found) return hover(located, itemAt(located) ?? located.statement.head, texts);
  return { ...found, text: [found.text, ...texts].join('\n\n') };
}

function hoverOfWord(snapshot: Snapshot, located: Located): Hover | undefined {
  const { statement, within, entry } = located;
  if (!touches(statement.word, within)) return undefined;
  if (!entry) {
    const parameter = targetAt(snapshot, located);
    return parameter && hover(located, statement.word, [declarationText(parameter), ...besides(snapshot, located)]);
  }
  return hover(located, statement.word, [
    ...ownFacts(snapshot, statement),
    ...widthOfZone(snapshot, statement),
    ...besides(snapshot, located),
    wordText(entry, snapshot.project.settings),
  ]);
}

function hoverOfName(snapshot: Snapshot, located: Located): Hover | undefined {
  const at = pathAt(located);
  const target = at && targetAt(snapshot, located);
  if (!target) return undefined;
  const rests = target === located.statement || target.word.text === 'parameter' ? besides(snapshot, located) : [];
  const facts = ownFacts(snapshot, target, unitAround(snapshot, located, at));
  const isHere = target === located.statement;
  return hover(located, at.word, [isHere ? headText(target) : declarationText(target), ...facts, ...rests]);
}

/** A length in the other system, as exactly as it can be shown, and what is known of it beside. */
function hoverOfNumber(snapshot: Snapshot, located: Located): Hover | undefined {
  const item = itemAt(located);
  const number = isExpression(item) ? numberWithin(item, located.within) : undefined;
  if (!number) return undefined;
  const text = otherSystem(number, snapshot.project.settings.show);
  const texts = [...(text ? [text] : []), ...besides(snapshot, located)];
  return texts.length > 0 ? hover(located, number, texts) : undefined;
}

/** A rule that is agreed to or treated, a limit that is set. */
function hoverOfRule({ project }: Snapshot, located: Located): Hover | undefined {
  const { reading } = located;
  const item = itemAt(located);
  const slot = reading && item && slotOf(reading, item);
  if (item?.kind !== 'path' || slot?.type.kind !== 'ref') return undefined;
  const { show } = project.settings;
  const { to } = slot.type;
  const text =
    to === 'rule' ? ruleText(dotted(item), show) : to === 'limit' ? limitText(dotted(item), show) : undefined;
  return text === undefined ? undefined : hover(located, item, [text]);
}

/** Behind the first word, where nothing else is told: what is known of the whole. */
function hoverOfRest(snapshot: Snapshot, located: Located): Hover | undefined {
  const item = itemAt(located);
  const texts = item ? [...besides(snapshot, located), ...widthOfZone(snapshot, located.statement)] : [];
  return item && texts.length > 0 ? hover(located, item, texts) : undefined;
}

/** What surveys put in place of a length; over which values of a parameter its template was checked. */
function besides(snapshot: Snapshot, { statement, place }: Located): string[] {
  const ranges =
    place === 'template' && statement.word.text === 'parameter' ? rangeFacts(snapshot, topOf(statement)) : [];
  return [...surveyFacts(snapshot, statement), ...ranges];
}

/** For the width of a zone, what is known of the zone. */
function widthOfZone(snapshot: Snapshot, { word, parent }: Statement): string[] {
  const isWidth = word.text === 'width' && parent.kind === 'statement' && parent.word.text === 'zone';
  return isWidth ? factsOf(snapshot, parent) : [];
}

function numberWithin(e: Expression, within: number): NumberLiteral | undefined {
  if (!touches(e, within)) return undefined;
  switch (e.kind) {
    case 'number':
      return e;
    case 'binary':
      return numberWithin(e.left, within) ?? numberWithin(e.right, within);
    case 'negation':
      return numberWithin(e.operand, within);
    case 'group':
      return numberWithin(e.inner, within);
    case 'call':
      return e.args.map((a) => numberWithin(a, within)).find((n) => n !== undefined);
    default:
      return undefined;
  }
}

function otherSystem({ parts, raw }: NumberLiteral, show: Show): string | undefined {
  let total = 0;
  let metric = false;
  for (const { numerator, denominator, unit } of parts) {
    const measure = unit && measureOf(unit.text);
    if (measure?.dimension !== 'length') return undefined;
    metric ||= /^[cm]?m$/.test(measure.spelling);
    total += (Number(numerator) / Number(denominator)) * measure.size;
  }
  if (!Number.isFinite(total) || total > LONGEST) return undefined;
  const inches = show.system === 'inches' ? show : showInches;
  return `${raw} = ${showLength(ticks(Math.round(total)), metric ? inches : showMillimetres)}`;
}

/** The unit in whose block the cursor is, or in whose path: what it overrides, or is agreed to there, is told as it is there. */
function unitAround({ project }: Snapshot, located: Located, { path, index }: PathAt): Unit | undefined {
  const [top, inner] = located.trail;
  if (top && inner) return project.unitAt(top);
  const slot = located.reading && slotOf(located.reading, path);
  const unit = slot?.type.kind === 'ref' && slot.type.to === 'thing' && index > 0 ? path.words[0]?.text : undefined;
  const declared = unit === undefined ? undefined : project.names.find('unit', unit);
  return declared && project.unitAt(declared.statement);
}

/** What came out of a statement, of a template or a unit; in `one` alone, where it is given. */
function ownFacts(snapshot: Snapshot, statement: Statement, one?: Unit): string[] {
  const unit = snapshot.project.unitAt(statement);
  if (!unit) {
    const facts = factsOf(snapshot, statement, one);
    return [
      ...(facts.length > 0 ? partCaution(snapshot.project, statement, one) : []),
      ...facts,
      ...materialFacts(snapshot, statement),
      ...looseFacts(snapshot, statement),
      ...comparedFacts(snapshot, statement, one),
      ...rangeFacts(snapshot, statement),
    ];
  }
  const caution = unitCaution(snapshot.project, unit);
  const options = { group: 'unit', hasErrors: caution.length > 0 } as const;
  const lines = cutListText([unit], snapshot.project.settings, options).trimEnd().split('\n');
  const more = lines.length > mostLines ? [`and ${lines.length - mostLines} lines more`] : [];
  return [...caution, fenced([...lines.slice(0, mostLines), ...more].join('\n'), 'text')];
}

/** At most so many lines of a declaration are shown where it is named. */
const mostDeclared = 12;

/** What somebody has to know who names it elsewhere: all of it where that is short, and what a template asks for. */
function declarationText(statement: Statement): string {
  const { text, word, block, head } = statement;
  if (!block || statement.parent.kind !== 'segment' || statement.word.text === 'unit') return headText(statement);
  const whole = text
    .slice(word.start)
    .trimEnd()
    .split(/\r\n|\n|\r/);
  const asked = block.children.filter((child) => child.word.text === 'parameter');
  const lines =
    statement.word.text !== 'template'
      ? whole.length <= mostDeclared
        ? whole
        : [sliceOf(statement, head)]
      : [sliceOf(statement, head), ...asked.slice(0, mostDeclared).map((child) => `  ${sliceOf(child, child.head)}`)];
  return withDoc(lines.join('\n'), statement);
}

function headText(statement: Statement): string {
  return withDoc(sliceOf(statement, statement.head), statement);
}

function withDoc(text: string, { doc }: Statement): string {
  return [code(text), ...(doc ? [commented(doc)] : [])].join('\n\n');
}

function hover({ base }: Located, range: Range, texts: readonly string[]): Hover {
  return { start: base + range.start, end: base + range.end, text: texts.join('\n\n') };
}

/** A word with what follows it. */
export function wordHead({ word, phrase }: WordEntry): string {
  return `${word} ${shownPhrase(phrase)}`.trim();
}

/** What the vocabulary says of a word, under its head. */
export function wordText(entry: WordEntry, settings: Spoken): string {
  return [code(wordHead(entry)), wordMeaning(entry, settings)].join('\n\n');
}

/** In what the examples of a project are told. */
export type Spoken = Pick<ProjectSettings, 'show' | 'currency'>;

export function wordMeaning({ doc, datum, fallback, example, notYet }: WordEntry, { show, currency }: Spoken): string {
  const lines = [doc];
  if (datum !== undefined) lines.push(`Measured ${datum}.`);
  if (fallback !== undefined) lines.push(`Where it is not written: ${fallback}.`);
  if (notYet) lines.push('Read and kept; nothing is checked or computed from it yet.');
  lines.push(`For example: \`${examplesIn(example, show.system, currency)}\``);
  return lines.join('\n\n');
}

export function code(text: string): string {
  return fenced(text, 'closet');
}
