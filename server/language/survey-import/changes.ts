/**
 * What a table says, written into the surveys of a project in place. A statement that says the same already stays as it
 * is written; what the table says nothing of is left alone; nothing outside of surveys is touched.
 */

import { type Statement, segmentOf, spanOf } from '../../../grammar/tree.ts';
import { lengthIn, plainContext } from '../../model/context.ts';
import { lineEndAt, lineEndNear, removed } from '../../model/edits.ts';
import type { Project, Unit } from '../../model/project.ts';
import { childrenOf, dotted, pathIn, type Reading, textIn } from '../../model/reading.ts';
import type { StudSpec } from '../../model/spec.ts';
import { type Survey, surveyOf } from '../../model/survey.ts';
import { type TemplateContext, withoutParameters } from '../../model/template-values.ts';
import { Trace } from '../../model/trace.ts';
import { templateContext } from '../../model/unit.ts';
import type { TextEdit } from '../snapshot.ts';
import type { Said } from './cell-reading.ts';
import type { Measured, MeasuredWall } from './measured.ts';

export interface SurveyChange {
  readonly unit: string;
  readonly kind: 'new' | 'changed' | 'same';
  readonly file: string;
}

export interface Written {
  readonly edits: readonly TextEdit[];
  readonly changes: readonly SurveyChange[];
  /** Surveys that cannot be changed as they stand, each in a sentence. */
  readonly stuck: readonly string[];
  /** A file that is not there yet. */
  readonly created: { readonly file: string; readonly text: string } | undefined;
}

/** `into` is the file for surveys that are new; without it, where the surveys of the same floor are. */
export function changesFor(project: Project, measured: readonly Measured[], into?: string): Written {
  const edits: TextEdit[] = [];
  const changes: SurveyChange[] = [];
  const stuck: string[] = [];
  const fresh = new Map<string, string[]>();
  const homes = homesOf(project);
  for (const one of measured) {
    if (isEmpty(one)) continue;
    const { unit } = one;
    if (!unit.survey) {
      const file = into ?? homes.of(unit);
      const texts = fresh.get(file) ?? [];
      fresh.set(file, texts);
      texts.push(surveyText(one));
      changes.push({ unit: unit.name, kind: 'new', file });
      continue;
    }
    const { statement } = unit.survey;
    const file = segmentOf(statement).source.id;
    const open = unclosed(statement);
    if (open) {
      stuck.push(`The survey of ${unit.name} is not closed: write the } that is missing first.`);
      continue;
    }
    const own = updated(unit, one);
    for (const edit of own) edits.push({ ...edit, file });
    changes.push({ unit: unit.name, kind: own.length === 0 ? 'same' : 'changed', file });
  }
  let created: Written['created'];
  for (const [file, texts] of fresh) {
    const source = project.sources.get(file);
    if (source) edits.push(appended(file, source.text, texts));
    else created = { file, text: texts.join('\n') };
  }
  edits.sort((a, b) => (a.file < b.file ? -1 : a.file > b.file ? 1 : a.start - b.start));
  return { edits, changes, stuck, created };
}

function isEmpty({ walls, corners, openings }: Measured): boolean {
  return (
    corners.length === 0 && openings.size === 0 && [...walls.values()].every((wall) => wallLines(wall).length === 0)
  );
}

function unclosed(statement: Statement): boolean {
  const { block } = statement;
  if (!block) return false;
  return block.close < 0 || block.children.some(unclosed);
}

// New surveys

/** Where the most surveys of the floor are, else the most of all; else beside the unit. */
function homesOf(project: Project): { readonly of: (unit: Unit) => string } {
  const counts = new Map<string, Map<string, number>>();
  const count = (key: string, file: string): void => {
    const files = counts.get(key) ?? new Map<string, number>();
    counts.set(key, files);
    files.set(file, (files.get(file) ?? 0) + 1);
  };
  for (const { survey, floor } of project.units()) {
    if (!survey) continue;
    const file = segmentOf(survey.statement).source.id;
    count('', file);
    if (floor !== undefined) count(`floor ${floor}`, file);
  }
  const most = (key: string): string | undefined =>
    [...(counts.get(key) ?? [])].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1))[0]?.[0];
  return {
    of: ({ floor, declared }) =>
      (floor === undefined ? undefined : most(`floor ${floor}`)) ?? most('') ?? segmentOf(declared.statement).source.id,
  };
}

function appended(file: string, text: string, surveys: readonly string[]): TextEdit {
  const ending = lineEndNear(text, text.length) ?? '\n';
  const before = text === '' ? '' : text.endsWith('\n') ? '\n' : '\n\n';
  const added = (before + surveys.join('\n')).replaceAll('\n', ending);
  return { file, start: text.length, end: text.length, text: added };
}

function surveyText({ unit, walls, corners, openings, taken }: Measured): string {
  const lines = [
    `survey ${unit.name} {`,
    ...(taken.length === 0 ? [] : [`  ${takenText(taken)}`]),
    ...[...walls.values()].flatMap((wall) => {
      const own = wallLines(wall);
      return own.length === 0 ? [] : [`  wall ${wall.name} {`, ...own.map((line) => `    ${line}`), '  }'];
    }),
    ...corners.map((corner) => `  ${cornerText(corner)}`),
    ...[...openings].map(([name, sizes]) => `  opening ${name} { ${openingLines(sizes).join('; ')} }`),
    '}',
  ];
  return `${lines.join('\n')}\n`;
}

/** The statements and notes of a wall, in the order in which people measure. */
function wallLines(wall: MeasuredWall): string[] {
  const { ceiling, floorFalls, outOfPlumb, studs, notes } = wall;
  return [
    ...inOrder(wall.lengths).map(lengthText),
    ...(ceiling ? [`height ${ceiling.written}`] : []),
    ...(floorFalls ? [fallsText(floorFalls)] : []),
    ...(outOfPlumb ? [`out-of-plumb ${outOfPlumb.written}`] : []),
    ...(studs ? [studsText(studs)] : []),
    ...notes.map(noteText),
  ];
}

type Reading_ = MeasuredWall['lengths'][number];

/** From the floor up; those without a height first. */
function inOrder(lengths: readonly Reading_[]): Reading_[] {
  return lengths.toSorted((a, b) => (a.at?.value ?? -1) - (b.at?.value ?? -1));
}

function lengthText({ written, at }: Reading_): string {
  return `length ${written}${at ? ` at ${at.written}` : ''}`;
}

function fallsText({ written, to }: NonNullable<MeasuredWall['floorFalls']>): string {
  return `floor falls ${written}${to ? ` to ${to}` : ''}`;
}

function studsText({ side, at }: NonNullable<MeasuredWall['studs']>): string {
  return `studs ${side === 'right' ? 'from right ' : ''}${at.map(({ written }) => written).join(', ')}`;
}

function cornerText({ walls, degrees }: Measured['corners'][number]): string {
  return `corner ${walls.join(' ')} { ${angleText(degrees)} }`;
}

function angleText(degrees: number): string {
  return `angle ${degrees}deg`;
}

function openingLines({ width, height }: { width?: Said; height?: Said }): string[] {
  return [...(width ? [`width ${width.written}`] : []), ...(height ? [`height ${height.written}`] : [])];
}

function takenText(taken: readonly string[]): string {
  return `taken "${taken.join(', ')}"`;
}

function noteText({ label, texts }: MeasuredWall['notes'][number]): string {
  return `// ${label}: ${texts.join(label === 'Note' ? ' | ' : ', ')}`;
}

// Surveys that are there

type Edit = Omit<TextEdit, 'file'>;

/** Gathers what goes into each block, so that several lines for one are written together. */
class Pen {
  readonly edits: Edit[] = [];
  private readonly into = new Map<Statement, { readonly behind: Statement | undefined; readonly lines: string[] }[]>();

  replaceHead(statement: Statement, text: string): void {
    const { start, end } = spanOf({ statement, ...statement.head });
    this.edits.push({ start, end, text });
  }

  replaceRange(statement: Statement, range: { readonly start: number; readonly end: number }, text: string): void {
    const { start, end } = spanOf({ statement, ...range });
    this.edits.push({ start, end, text });
  }

  /** With its line, and with what somebody wrote beside it: that was about what goes. */
  remove(statement: Statement): void {
    const { parent, offset, text: own } = statement;
    const before = /\n[ \t]*$/.exec(parent.text.slice(0, offset))?.[0];
    const after = /^[ \t]*(?:\/\/[^\n]*)?\n/.exec(parent.text.slice(offset + own.length))?.[0];
    if (before !== undefined && after !== undefined) {
      const { start, end } = spanOf({ statement, start: 0, end: own.length });
      this.edits.push({ start: start - before.length + 1, end: end + after.length, text: '' });
      return;
    }
    const { place, text } = removed(statement);
    const { start, end } = spanOf(place);
    this.edits.push({ start, end, text });
  }

  /** A line at the end of a block, or behind one of its statements. */
  add(statement: Statement, line: string, behind?: Statement): void {
    const places = this.into.get(statement) ?? [];
    this.into.set(statement, places);
    const known = places.find((place) => place.behind === behind);
    if (known) known.lines.push(line);
    else places.push({ behind, lines: [line] });
  }

  finish(): Edit[] {
    for (const [statement, places] of this.into)
      for (const { behind, lines } of places) this.edits.push(insertion(statement, lines, behind));
    return this.edits.toSorted((a, b) => a.start - b.start);
  }
}

/** Lines in a block, as deep as the others in it. */
function insertion(statement: Statement, lines: readonly string[], behind: Statement | undefined): Edit {
  const { block, text } = statement;
  const ending = lineEndNear(text, block ? block.close : text.length) ?? lineEndAt(statement, statement.head.end);
  const { start: offset } = spanOf({ statement, start: 0, end: 0 });
  if (!block) {
    const indent = `${indentOf(statement)}  `;
    const inside = lines.map((line) => indent + line.replaceAll('\n', ending + indent)).join(ending);
    const at = offset + statement.head.end;
    return { start: at, end: at, text: ` {${ending}${inside}${ending}${indentOf(statement)}}` };
  }
  const last = block.children.at(-1);
  const isOneLine = !text.slice(block.open, block.close).includes('\n');
  const before = last && text.slice(0, last.offset + last.word.start);
  const lastIndent =
    before === undefined || isOneLine
      ? `${indentOf(statement)}  `
      : (/^[ \t]*/.exec(before.slice(before.lastIndexOf('\n') + 1))?.[0] ?? '');
  const inside = lines.map((line) => ending + lastIndent + line.replaceAll('\n', ending + lastIndent)).join('');
  if (behind) {
    const end = behind.offset + behind.text.length;
    // Behind what is on the rest of its line, such as a comment.
    const rest = text.slice(end, block.close).search(/\r?\n/);
    if (rest >= 0) return { start: offset + end + rest, end: offset + end + rest, text: inside };
    if (!lines.some((line) => line.startsWith('//')))
      return { start: offset + end, end: offset + end, text: lines.map((line) => `; ${line}`).join('') };
  }
  // In front of the closing brace; a brace that stands behind something gets a line of its own.
  const tail = /[ \t]*$/.exec(text.slice(0, block.close))?.[0].length ?? 0;
  const at = block.close - tail;
  const isAlone = /\n$/.test(text.slice(0, at));
  if (isAlone) {
    const from = offset + at;
    return { start: from, end: from, text: `${inside.slice(ending.length)}${ending}` };
  }
  return { start: offset + at, end: offset + block.close, text: `${inside}${ending}${indentOf(statement)}` };
}

/** The white space that the line of a statement begins with. */
function indentOf({ offset, parent, word }: Statement): string {
  const before = parent.text.slice(0, offset + word.start);
  return /^[ \t]*/.exec(before.slice(before.lastIndexOf('\n') + 1))?.[0] ?? '';
}

function updated(unit: Unit, { walls, corners, openings, taken }: Measured): Edit[] {
  const survey = unit.survey as NonNullable<Unit['survey']>;
  const { statement, reading } = survey;
  const context = contextOf(unit, survey.home);
  const known = surveyOf(survey, context);
  const pen = new Pen();
  const [first] = childrenOf(reading, 'taken');
  if (taken.length > 0) {
    const text = takenText(taken);
    if (!first) pen.add(statement, text);
    else if (textIn(first, 'value') !== taken.join(', ')) pen.replaceHead(first.statement, text);
  }
  for (const wall of walls.values()) {
    const lines = wallLines(wall);
    if (lines.length === 0) continue;
    // Of a wall that is written twice, what counts is what is written first.
    const own = childrenOf(reading, 'wall')
      .filter((one) => nameOf(one) === wall.name)
      .slice(0, 1);
    if (own.length === 0)
      pen.add(statement, [`wall ${wall.name} {`, ...lines.map((line) => `  ${line}`), '}'].join('\n'));
    else updateWall(own, wall, known, context, pen);
  }
  for (const corner of corners) updateCorner(reading, corner, known, pen);
  for (const [name, sizes] of openings) updateOpening(reading, name, sizes, known, pen);
  return pen.finish();
}

function contextOf({ info, given }: Unit, home: Parameters<typeof plainContext>[0]): TemplateContext {
  const plain = plainContext(home, new Trace(), () => undefined);
  return info && given ? templateContext(info.blueprint, given.values, plain) : withoutParameters(plain);
}

function nameOf(wall: Reading): string | undefined {
  const path = pathIn(wall, 'name');
  return path && dotted(path);
}

function updateWall(
  own: readonly Reading[],
  wall: MeasuredWall,
  known: Survey,
  context: TemplateContext,
  pen: Pen,
): void {
  const before = known.walls.filter(({ name }) => name === wall.name).slice(0, 1);
  const block = (own.at(-1) as Reading).statement;
  if (wall.lengths.length > 0) updateLengths(wall.lengths, before, own, block, pen);
  const single = (word: string, text: string, isSame: (found: Reading) => boolean): void => {
    const found = own.flatMap((one) => childrenOf(one, word)).at(-1);
    if (!found) pen.add(block, text);
    else if (!isSame(found)) pen.replaceHead(found.statement, text);
  };
  const lengthOf = (found: Reading): number | undefined => lengthIn(found, 'value', context);
  const { ceiling, floorFalls, outOfPlumb, studs } = wall;
  if (ceiling) single('height', `height ${ceiling.written}`, (found) => lengthOf(found) === ceiling.value);
  if (floorFalls)
    single('floor', fallsText(floorFalls), (found) => {
      const to = found.literals.map((path) => dotted(path)).find((word) => word === 'left' || word === 'right');
      return lengthOf(found) === floorFalls.value && to === floorFalls.to;
    });
  if (outOfPlumb)
    single('out-of-plumb', `out-of-plumb ${outOfPlumb.written}`, (found) => lengthOf(found) === outOfPlumb.value);
  if (studs) {
    const found = own.flatMap((one) => childrenOf(one, 'studs'));
    const [first, ...rest] = found;
    if (!first) pen.add(block, studsText(studs));
    else if (
      !studsAlike(
        before.flatMap((one) => one.studs),
        studs,
      )
    ) {
      pen.replaceHead(first.statement, studsText(studs));
      for (const other of rest) pen.remove(other.statement);
    }
  }
  for (const note of wall.notes) updateNote(own, noteText(note), note.label, block, pen);
}

/** All lengths of a wall are of one survey: those that the table does not have were measured before, and go. */
function updateLengths(
  lengths: readonly Reading_[],
  before: Survey['walls'],
  own: readonly Reading[],
  block: Statement,
  pen: Pen,
): void {
  const values = new Map(before.flatMap(({ readings }) => readings.map((one) => [one.place.statement, one] as const)));
  const old = own.flatMap((one) => childrenOf(one, 'length').map(({ statement }) => statement));
  const pairs = new Map<Statement, Reading_>();
  const left = new Set(inOrder(lengths));
  const pair = (matches: (statement: Statement, one: Reading_) => boolean): void => {
    for (const statement of old) {
      if (pairs.has(statement)) continue;
      const found = [...left].find((one) => matches(statement, one));
      if (!found) continue;
      pairs.set(statement, found);
      left.delete(found);
    }
  };
  pair((statement, one) => {
    const known = values.get(statement);
    return known !== undefined && known.at === one.at?.value && known.length === one.value;
  });
  pair((statement, one) => values.get(statement)?.at === one.at?.value && one.at !== undefined);
  pair(() => true);
  for (const statement of old) {
    const one = pairs.get(statement);
    const known = values.get(statement);
    if (!one) pen.remove(statement);
    else if (known?.at !== one.at?.value || known?.length !== one.value) pen.replaceHead(statement, lengthText(one));
  }
  const last = old.at(-1);
  const home = last && own.map(({ statement }) => statement).find((wall) => wall.block?.children.includes(last));
  for (const one of left) pen.add(home ?? block, lengthText(one), last);
}

function studsAlike(before: readonly StudSpec[], { side, at }: NonNullable<MeasuredWall['studs']>): boolean {
  const positions: number[] = [];
  for (const spec of before) {
    if (spec.kind !== 'list' || spec.side !== side) return false;
    positions.push(...spec.at);
  }
  return positions.sort((a, b) => a - b).join() === at.map(({ value }) => value).join();
}

function updateNote(own: readonly Reading[], text: string, label: string, block: Statement, pen: Pen): void {
  for (const { statement } of own)
    for (const comment of statement.block?.comments ?? []) {
      const written = statement.text.slice(comment.start, comment.end).trimEnd();
      if (comment.kind !== 'line' || !written.startsWith(`// ${label}: `)) continue;
      if (written !== text)
        pen.replaceRange(statement, { start: comment.start, end: comment.start + written.length }, text);
      return;
    }
  pen.add(block, text);
}

function updateCorner(reading: Reading, corner: Measured['corners'][number], known: Survey, pen: Pen): void {
  const isOf = (walls: readonly (string | undefined)[]): boolean => corner.walls.every((wall) => walls.includes(wall));
  const before = known.corners.find(({ walls }) => isOf(walls));
  if (before?.angle && Math.abs(before.angle.degrees - corner.degrees) < 1e-9) return;
  const found = childrenOf(reading, 'corner').find((one) =>
    isOf(['a', 'b'].map((slot) => pathIn(one, slot)).map((path) => path && dotted(path))),
  );
  const [angle] = found ? childrenOf(found, 'angle') : [];
  if (angle) pen.replaceHead(angle.statement, angleText(corner.degrees));
  else if (found) pen.add(found.statement, angleText(corner.degrees));
  else pen.add(reading.statement, cornerText(corner));
}

function updateOpening(
  reading: Reading,
  name: string,
  sizes: { width?: Said; height?: Said },
  known: Survey,
  pen: Pen,
): void {
  const own = known.openings.find((one) => one.name === name);
  if (!own) {
    pen.add(reading.statement, `opening ${name} { ${openingLines(sizes).join('; ')} }`);
    return;
  }
  for (const part of ['width', 'height'] as const) {
    const said = sizes[part];
    if (!said || own.props[part]?.value === said.value) continue;
    const found = childrenOf(own.reading, part).at(-1);
    if (found) pen.replaceHead(found.statement, `${part} ${said.written}`);
    else pen.add(own.reading.statement, `${part} ${said.written}`);
  }
}
