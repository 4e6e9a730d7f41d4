/** Several units in one statement: a list of names, or the first and the last of a row of them. */
import { placeOf, type Range, type Statement } from '../../grammar/tree.ts';
import { lineEndAt } from './edits.ts';
import { type Finding, type Fix, finding } from './finding.ts';
import * as rules from './rules.ts';

/** So many are written out; of more nobody reads through what a fix writes. */
const mostWritten = 50;

const tokens = /\s+|\.{2,}|\p{L}[\p{L}\p{N}_]*(?:[-.][\p{L}\p{N}_]+)*|\d+|./gsu;
const between = /^(?:,|;|&|\+|and)$/;
const upTo = /^(?:\.{2,}|…|-|–|—|~|:|to|through|thru|until)$/;
const name = /^\p{L}/u;

interface Several extends Range {
  readonly names: readonly string[];
  /** From one to another: which of those between there are, only somebody who knows the building can say. */
  readonly isRow: boolean;
  /** The template, and whether it is mirrored. */
  readonly rest: string;
}

/** `unit ..A-105 linen`. Undefined where it cannot be told which names are meant. */
export function severalUnits(statement: Statement): { readonly range: Range; readonly finding: Finding } | undefined {
  const { word, block, text, head } = statement;
  if (!/^units?$/.test(word.text) || statement.parent.kind !== 'segment') return undefined;
  const several = severalIn(text.slice(word.end, head.end));
  if (!several) return undefined;
  const { names, rest, isRow } = several;
  const range = { start: word.end + several.start, end: word.end + several.end };
  const [first, second] = names.map((one) => `unit ${one}${rest}`);
  const isSound = !block || (block.close >= 0 && statement.problems.every((p) => p.end <= head.end));
  const whole = names.map((one) => `unit ${one}${rest}${text.slice(head.end)}`).join(lineEndAt(statement, head.end));
  const fix: Fix = {
    title: `Write a statement for each of ${names.length} units`,
    edits: [{ place: placeOf(statement, { start: word.start, end: text.length }), text: whole }],
    ...(isRow && { byHand: true }),
  };
  const found = finding(
    rules.phraseNotUnderstood,
    placeOf(statement, range),
    `A unit has one name, and here stand ${isRow ? 'those of a row of units' : 'several'}.`,
    {
      advice: `Write a statement for each: ${first}; ${second}${names.length > 2 ? '; and so on' : ''}`,
      fixes: isSound && names.length <= mostWritten ? [fix] : [],
    },
  );
  return { range, finding: found };
}

/** Their names, where a statement says that of several. */
export function unitsIn({ word, text, head, parent }: Statement): readonly string[] {
  if (!/^units?$/.test(word.text) || parent.kind !== 'segment') return [];
  return severalIn(text.slice(word.end, head.end))?.names ?? [];
}

function severalIn(text: string): Several | undefined {
  const all = [...text.matchAll(tokens)].filter(([one]) => one.trim() !== '');
  const said = all.map(([one]) => one);
  const names = said[0] !== undefined && name.test(said[0]) ? [said[0]] : [];
  let at = 1;
  let isRow = false;
  for (; names.length > 0; at += 2) {
    const [mark = '', next = ''] = said.slice(at, at + 2);
    const row = upTo.test(mark) ? rowOf(names.at(-1) as string, next) : undefined;
    if (row) names.push(...row);
    else if (between.test(mark) && name.test(next)) names.push(next);
    else if (mark === '/' && isAlike(names.at(-1) as string, next)) names.push(next);
    else break;
    isRow ||= row !== undefined;
  }
  const [first, last, template] = [all[0], all[at - 1], all[at]];
  const rest = said.slice(at + 1);
  const isUnit = template && name.test(template[0]) && (rest.length === 0 || rest.join(' ') === 'mirrored');
  if (!isUnit || !first || !last || names.length < 2) return undefined;
  const [start, end] = [first.index, last.index + last[0].length];
  return { names, isRow, rest: ` ${text.slice(template.index).trim()}`, start, end };
}

/** Numbered in the same way, as `A-101` and `B-102`: what else stands around a `/` may be one name. */
function isAlike(one: string, other: string): boolean {
  const shape = (text: string): string => text.replaceAll(/\p{L}/gu, 'a').replaceAll(/\d/g, '0');
  return /\d/.test(one) && shape(one) === shape(other);
}

/** `A-102` to `A-105` behind `A-101`, where the two differ in the number at their end alone. */
function rowOf(first: string, last: string): string[] | undefined {
  const [, before = '', from = ''] = /^(.*?)(\d+)$/.exec(first) ?? [];
  const to = last.startsWith(before) ? last.slice(before.length) : last;
  if (!/^\d{1,6}$/.test(from) || !/^\d{1,6}$/.test(to) || Number(to) <= Number(from)) return undefined;
  const most = Math.min(Number(to), Number(from) + mostWritten);
  const row: string[] = [];
  for (let n = Number(from) + 1; n <= most; n++) row.push(before + String(n).padStart(from.length, '0'));
  return row;
}
