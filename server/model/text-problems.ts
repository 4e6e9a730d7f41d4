/**
 * What a text cannot be read for, as findings. A slip of the keyboard is one finding with one fix, however many characters
 * it takes: a text between marks of another kind, a comment of another language, a letter of two characters.
 */
import { type Place, type Problem, placeOf, type Range, type Statement, statementsWithin } from '../../grammar/tree.ts';
import { written } from './edits.ts';
import { type Finding, type Fix, finding } from './finding.ts';
import { currencySign, meantBy, nameMeant, quotation, type SlipEdit } from './other-spellings.ts';
import { asMeant, problemFixes } from './reading-fixes.ts';
import type { Rule } from './rule.ts';
import * as rules from './rules.ts';

const problemRules: Record<Problem['code'], Rule> = {
  'block-not-closed': rules.blockNotClosed,
  'block-not-opened': rules.blockNotOpened,
  'brace-without-block': rules.braceWithoutBlock,
  'text-not-closed': rules.textNotClosed,
  'comment-not-closed': rules.commentNotClosed,
  'expression-incomplete': rules.expressionIncomplete,
  'character-not-expected': rules.characterNotExpected,
  'nested-too-deep': rules.nestedTooDeep,
  'too-long': rules.tooLong,
  'too-many-statements': rules.tooLong,
};

export function problemsOf(statement: Statement): Finding[] {
  const { problems, text } = statement;
  const comment = commentIn(statement);
  if (problems.length === 0 && !comment) return [];
  const found: Finding[] = [];
  const isCut = problems.some((p) => isParenthesis(text, p)) && problems.some((p) => isMeant(text, p));
  // Up to here all is told by one finding.
  let told = -1;
  for (const p of problems.toSorted((a, b) => a.start - b.start)) {
    if (comment && p.start >= comment.start) break;
    if (
      p.start < told ||
      // It has no partner for a sign of another kind within the two.
      (isCut && isParenthesis(text, p)) ||
      // It is told of with the unit of measure that it belongs to.
      (text[p.start] === '²' && /[A-Za-z]/.test(text[p.start - 1] ?? '')) ||
      (p.code === 'block-not-closed' && takesInItsBrace(statement))
    )
      continue;
    const whole = p.code === 'character-not-expected' ? quotedOtherwise(statement, p) : undefined;
    found.push(whole ?? toldBy(statement, p));
    told = Math.max(told, found.at(-1)?.place.end ?? -1);
    // Of a name that is told of as a whole no other character is.
    if (p.code === 'character-not-expected') told = Math.max(told, meantBy(text, p)?.at(-1)?.end ?? -1);
  }
  return comment ? [...found, commentFinding(statement, comment)] : found;
}

function isParenthesis(text: string, { start, end }: Problem): boolean {
  return /^[()]$/.test(text.slice(start, end));
}

function isMeant(text: string, p: Problem): boolean {
  return p.code === 'character-not-expected' && meantBy(text, p) !== undefined;
}

/** Of so many characters a number of feet is, at most. */
const longestFeet = 40;

/** `7'-4`: the hyphen joins feet and inches, and these have no unit of measure. */
function inchesBehindHyphen(statement: Statement, { start, end }: Problem): Finding | undefined {
  const { text } = statement;
  if (text[start] !== '-') return undefined;
  const feet = /\d[\d./-]*[ \t]*(?:ft|')$/.exec(text.slice(Math.max(0, start - longestFeet), start));
  const inches = text[start] === '-' ? /^\d[\d/-]*(?![\w"'.])/.exec(text.slice(end)) : null;
  if (!feet || !inches) return undefined;
  const range = { start: start - feet[0].length, end: end + inches[0].length };
  const meant = `${text.slice(range.start, range.end)}in`;
  return finding(
    rules.phraseNotUnderstood,
    placeOf(statement, { start: end, end: range.end }),
    `Behind feet stand inches, and ${inches[0]} has no unit of measure.`,
    { advice: `Did you mean ${meant}?`, fixes: [written(placeOf(statement, range), meant)] },
  );
}

function toldBy(statement: Statement, p: Problem): Finding {
  const inches = inchesBehindHyphen(statement, p);
  if (inches) return inches;
  const meant = p.code === 'character-not-expected' ? meantBy(statement.text, p) : undefined;
  const isCurrency = currencySign.test(statement.text.slice(p.start, p.end));
  const example = isCurrency ? 'Write for example: 12.50 EUR' : p.fix;
  const advice = meant ? `Did you mean ${asMeant(statement, meant)}?` : example;
  const message = p.code === 'character-not-expected' ? inWords(statement, p) : undefined;
  return finding(problemRules[p.code], placeOf(statement, p), message ?? p.message, {
    ...(advice !== undefined && { advice }),
    fixes: problemFixes(statement, p),
  });
}

/** What people cannot see, or do not take for a character, by its number. */
function inWords({ text }: Statement, { start, end }: Problem): string | undefined {
  const sign = text.slice(start, end);
  const number = `U+${(sign.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`;
  if (/^\p{Cf}+$/u.test(sign)) {
    const isIn = nameMeant(text, { start, end }) !== undefined;
    return `A character that is not seen (${number}) stands ${isIn ? 'in this word' : 'here'}.`;
  }
  if (currencySign.test(sign)) return 'A currency is written with its three letters, behind the number.';
  return /^\p{M}+$/u.test(sign)
    ? `In this name a letter and a mark over it are two characters (${number}), and a name has one for each letter.`
    : undefined;
}

/** A text between marks of another kind, all of it. */
function quotedOtherwise(statement: Statement, problem: Problem): Finding | undefined {
  const edits = quotation(statement.text, problem);
  const [open, close] = [edits?.[0], edits?.at(-1)];
  if (!edits || !open || !close) return undefined;
  const [begins, ends] = [open, close].map(({ start, end }) => statement.text.slice(start, end));
  const whole = asMeant(statement, edits);
  return finding(
    rules.characterNotExpected,
    placeOf(statement, { start: open.start, end: close.end }),
    `A text stands between plain double quotation marks ("), and this one between ${begins} and ${ends}.`,
    { advice: `Did you mean ${whole}?`, fixes: [{ title: `Write ${whole}`, edits: placed(statement, edits) }] },
  );
}

function placed(statement: Statement, edits: readonly SlipEdit[]): Fix['edits'] {
  return edits.map(({ text, ...range }) => ({ place: placeOf(statement, range), text }));
}

/** A text that is not closed goes to the end of its line: what would close a block stands in it, and is there once that is mended. */
function takesInItsBrace(statement: Statement): boolean {
  for (const { problems, text } of statementsWithin(statement)) {
    const isTaken = problems.some(
      ({ code, start, end }) => code === 'text-not-closed' && /\}/.test(text.slice(start, end)),
    );
    if (isTaken) return true;
  }
  return false;
}

/** Where a comment of another language begins, which is read as one: its mark. */
export function commentIn({ word, head, problems, text }: Statement): Range | undefined {
  const before = text.slice(head.start, head.start + 3);
  if (word.text === '' && /^--(?![\d-])/.test(before)) return { start: head.start, end: head.start + 2 };
  const mark = problems.find(({ code, start, end }) => {
    if (code !== 'character-not-expected' || !/^#+$/.test(text.slice(start, end))) return false;
    // `#8` is a size of screws.
    return start === head.start || (/\s/.test(text[start - 1] ?? '') && !/\d/.test(text[end] ?? ''));
  });
  const isInText = problems.some((p) => p.start < (mark?.start ?? 0) && endOfText(text, p) > (mark?.start ?? 0));
  return isInText ? undefined : mark;
}

/** Of a text between marks of another kind that begins there. */
function endOfText(text: string, p: Problem): number {
  return p.code === 'character-not-expected' ? (quotation(text, p)?.at(-1)?.end ?? -1) : -1;
}

/** The items of a statement that mean something. */
export function meaningful(statement: Statement): Statement['items'] {
  const end = commentIn(statement)?.start ?? Number.POSITIVE_INFINITY;
  return statement.items.filter(({ kind, start }) => kind !== 'stray' && start < end);
}

/** Lines of one block that are all taken out: one fix for all of them. */
function commentFinding(statement: Statement, mark: Range): Finding {
  const within = [...statementsWithin(statement)].flatMap((inner): Place[] => {
    const own = inner === statement ? mark : commentIn(inner);
    return own ? [placeOf(inner, own)] : [];
  });
  const written = statement.text.slice(mark.start, mark.end);
  return finding(
    rules.characterNotExpected,
    placeOf(statement, mark),
    `A comment begins with //, not with ${written}.`,
    {
      advice: 'Write // in its place.',
      fixes: [{ title: 'Write //', edits: within.map((place) => ({ place, text: '//' })) }],
    },
  );
}
