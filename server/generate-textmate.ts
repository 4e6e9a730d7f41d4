/**
 * The TextMate grammar, from the vocabulary: what an editor colours before the language server has
 * answered, and what sites that show code have instead of one.
 *
 * A rule for each block says which words begin a statement in it, so `width` is a word of the language
 * in a zone and an argument in a unit. A statement's rule knows the words of its phrase and ends with
 * the statement, at `;`, `}` or the end of the line. A line that begins in column 0 with a top-level
 * word ends every block that is still open, as it does for the parser when a brace is missing.
 */
import { measures } from '../grammar/measures.ts';
import type { Phrase } from './model/phrase.ts';
import { topWords, vocabulary, wordsIn } from './model/vocabulary.ts';
import type { BlockPlace, WordEntry } from './model/words/entry.ts';

interface Rule {
  readonly name?: string;
  readonly match?: string;
  readonly begin?: string;
  readonly end?: string;
  readonly captures?: Captures;
  readonly beginCaptures?: Captures;
  readonly endCaptures?: Captures;
  readonly patterns?: readonly Rule[];
  readonly include?: string;
}

type Captures = Readonly<Record<string, { readonly name: string }>>;

const word = String.raw`[\p{L}_][\p{L}\p{N}_]*(?:-[\p{L}\p{N}_]+)*`;
/** A word ends here: no letter goes on, nor a hyphen with a letter behind it. */
const wordEnd = String.raw`(?![\p{L}\p{N}_]|-[\p{L}\p{N}_])`;
const number = String.raw`(?:\d+(?:-\d+/\d+|[ \t]+\d+/\d+|/\d+|\.\d+)?|\.\d+)`;
const unitEnd = String.raw`(?![\p{L}\p{N}²³°])`;

const statementEnd = String.raw`(?<=\})|(?=[;}])|^|$`;
const blockEnd = String.raw`(\})|^(?=${oneOf([...topWords])}${wordEnd})`;

export function textMateGrammar(): string {
  const places = [...new Set<BlockPlace>(['anything', ...vocabulary.flatMap((e) => e.block ?? [])])].sort();
  const grammar = {
    comment: 'Written by server/generate.ts from the vocabulary (npm run generate). Changes made here are lost.',
    name: 'Storypole closet',
    scopeName: 'source.closet',
    fileTypes: ['closet'],
    patterns: [...blockPatterns('file'), { match: String.raw`\}`, name: 'invalid.illegal.brace.closet' }],
    repository: {
      comments: { patterns: comments },
      values: { patterns: [{ include: '#comments' }, ...values] },
      ...Object.fromEntries(places.map((place) => [place, block(place)])),
    },
  };
  return `${printed(grammar, '')}\n`;
}

// Blocks and statements

function block(place: BlockPlace): Rule {
  return {
    begin: String.raw`\{`,
    beginCaptures: named({ 0: 'punctuation.section.block.begin' }),
    end: blockEnd,
    endCaptures: named({ 1: 'punctuation.section.block.end' }),
    patterns: blockPatterns(place),
  };
}

function blockPatterns(place: BlockPlace): Rule[] {
  const entries = wordsIn(place);
  const statements = entries.length > 0 ? placeStatements(entries) : looseStatements();
  const first = place === 'unit' || entries.length === 0 ? 'variable.parameter.argument' : 'variable.other';
  return [
    { include: '#comments' },
    { match: ';', name: 'punctuation.terminator.statement.closet' },
    ...statements,
    statement(`(${word})`, { 1: first }, 'anything', []),
    { include: '#anything' },
    { include: '#values' },
  ];
}

/** The statements that may stand in a place. Properties with the same phrase words share a rule. */
function placeStatements(entries: readonly WordEntry[]): Rule[] {
  const rules: Rule[] = [];
  const shared = new Map<string, WordEntry[]>();
  for (const entry of entries) {
    if (entry.block || declaresName(entry)) rules.push(ownStatement(entry));
    else {
      const key = JSON.stringify(phraseRules([entry]));
      shared.set(key, [...(shared.get(key) ?? []), entry]);
    }
  }
  for (const alike of shared.values()) {
    const begin = `(${oneOf(alike.map((e) => e.word))})${wordEnd}`;
    rules.push(statement(begin, { 1: propertyScope(alike[0] as WordEntry) }, 'anything', phraseRules(alike)));
  }
  return rules;
}

function ownStatement(entry: WordEntry): Rule {
  const { word: text, block: inside = 'anything' } = entry;
  if (!declaresName(entry)) {
    return statement(`(${text})${wordEnd}`, { 1: `keyword.control.${text}` }, inside, phraseRules([entry]));
  }
  const name = nameAfter('[ \\t]+', leavesOf(entry.phrase).first);
  const begin = `(${text})${wordEnd}${name && `(?:${name})?`}`;
  return statement(begin, { 1: `storage.type.${text}`, 2: nameScope(entry) }, inside, phraseRules([entry]));
}

/** In a block whose words depend on something else than the block, all may stand. */
function looseStatements(): Rule[] {
  const all = phraseRules(vocabulary);
  const declaring = vocabulary.filter(declaresName).map((e) => e.word);
  const others = vocabulary.map((e) => e.word).filter((w) => !declaring.includes(w));
  const name = `(?:[ \\t]+(${word}))?`;
  return [
    statement(`(${oneOf(declaring)})${wordEnd}${name}`, { 1: 'storage.type', 2: 'entity.name.type' }, 'anything', all),
    statement(`(${oneOf(others)})${wordEnd}`, { 1: 'keyword.control' }, 'anything', all),
  ];
}

function statement(begin: string, scopes: Record<number, string>, inside: BlockPlace, words: readonly Rule[]): Rule {
  return {
    begin,
    beginCaptures: named(scopes),
    end: statementEnd,
    patterns: [{ include: `#${inside}` }, ...words, { include: '#values' }],
  };
}

/** It gives something a name of its own, right behind its first word or a word of its phrase. */
function declaresName(entry: WordEntry): boolean {
  const { first, follow } = leavesOf(entry.phrase);
  return first.some(isName) || (entry.block !== undefined && [...follow.keys()].some(isName));
}

function nameScope(entry: WordEntry): string {
  return entry.block ? `entity.name.type.${entry.word}` : `entity.name.variable.${entry.word}`;
}

function propertyScope(entry: WordEntry): string {
  return entry.places.includes('file') ? `keyword.control.${entry.word}` : 'keyword.control';
}

// Phrases

/** The words of the language that may follow the first word, and the names that follow those. */
function phraseRules(entries: readonly WordEntry[]): Rule[] {
  const rules: Rule[] = [];
  const constants = new Set<string>();
  const connecting = new Set<string>();
  for (const entry of entries) {
    const { follow } = leavesOf(entry.phrase);
    for (const [leaf, after] of follow) {
      if (leaf.kind !== 'literal') continue;
      const kind = [...after].find((a) => isName(a) || isType(a));
      if (kind) rules.push(wordWithName(leaf.text, isName(kind) ? nameScope(entry) : 'support.type', [...after]));
    }
    for (const literal of literalsWithin(entry.phrase.node, false)) {
      (literal.alone ? constants : connecting).add(literal.text);
    }
  }
  for (const text of connecting) constants.delete(text);
  const both: [Set<string>, string][] = [
    [connecting, 'keyword.other.closet'],
    [constants, 'constant.language.closet'],
  ];
  for (const [texts, name] of both) {
    const words = [...texts].filter(isWord).sort();
    if (words.length > 0) rules.push({ match: `${oneOf(words)}${wordEnd}`, name });
  }
  return unique(rules);
}

/** A word or mark of a phrase and the name behind it. */
function wordWithName(literal: string, scope: string, after: readonly Leaf[]): Rule {
  const mark = !isWord(literal);
  return {
    match: `(${escaped(literal)})${mark ? '' : wordEnd}${nameAfter(mark ? '[ \\t]*' : '[ \\t]+', after)}`,
    captures: named({ 1: mark ? 'punctuation.separator.type' : 'keyword.other', 2: scope }),
  };
}

/** A name or a type, where one may follow, that is none of the words that may follow instead. */
function nameAfter(gap: string, leaves: readonly Leaf[]): string {
  if (!leaves.some((leaf) => isName(leaf) || isType(leaf))) return '';
  const instead = leaves.flatMap((leaf) => (leaf.kind === 'literal' && isWord(leaf.text) ? [leaf.text] : []));
  return `${gap}${instead.length > 0 ? `(?!${oneOf(instead)}${wordEnd})` : ''}(${word})`;
}

function isWord(literal: string): boolean {
  return /^\p{L}/u.test(literal);
}

type Node = Phrase['node'];
type Leaf = Extract<Node, { kind: 'literal' | 'slot' }>;

function isName(leaf: Leaf): boolean {
  return leaf.kind === 'slot' && leaf.type.kind === 'name' && leaf.name === 'name';
}

function isType(leaf: Leaf): boolean {
  return leaf.kind === 'slot' && leaf.type.kind === 'type';
}

/** What a phrase may begin with, and what may follow each word or slot of it. */
function leavesOf({ node }: Phrase): {
  readonly first: readonly Leaf[];
  readonly follow: ReadonlyMap<Leaf, ReadonlySet<Leaf>>;
} {
  const follow = new Map<Leaf, Set<Leaf>>();
  const ends = (n: Node): { first: Leaf[]; last: Leaf[]; empty: boolean } => {
    switch (n.kind) {
      case 'literal':
      case 'slot':
        follow.set(n, new Set());
        return { first: [n], last: [n], empty: false };
      case 'optional':
        return { ...ends(n.part), empty: true };
      case 'choice': {
        const parts = n.parts.map(ends);
        return {
          first: parts.flatMap((p) => p.first),
          last: parts.flatMap((p) => p.last),
          empty: parts.some((p) => p.empty),
        };
      }
      case 'sequence': {
        let all = { first: [] as Leaf[], last: [] as Leaf[], empty: true };
        for (const next of n.parts.map(ends)) {
          for (const leaf of all.last) for (const after of next.first) follow.get(leaf)?.add(after);
          all = {
            first: all.empty ? [...all.first, ...next.first] : all.first,
            last: next.empty ? [...all.last, ...next.last] : next.last,
            empty: all.empty && next.empty,
          };
        }
        return all;
      }
    }
  };
  return { first: ends(node).first, follow };
}

/** The literals of a phrase; `alone` where one is a whole alternative, as a value of its own. */
function literalsWithin(node: Node, alone: boolean): { readonly text: string; readonly alone: boolean }[] {
  switch (node.kind) {
    case 'literal':
      return [{ text: node.text, alone }];
    case 'slot':
      return [];
    case 'optional':
      return literalsWithin(node.part, false);
    case 'sequence':
      return node.parts.flatMap((part) => literalsWithin(part, false));
    case 'choice':
      return node.parts.flatMap((part) => literalsWithin(part, true));
  }
}

// Comments, texts, quantities, names, operators

const comments: readonly Rule[] = [
  { match: String.raw`^[ \t]*(///.*)$`, captures: named({ 1: 'comment.line.documentation' }) },
  { match: '//.*$', name: 'comment.line.double-slash.closet' },
  { begin: String.raw`/\*`, end: String.raw`\*/`, name: 'comment.block.closet' },
];

const letterUnits = measures.map((m) => m.spelling).filter((spelling) => !/^["']$/.test(spelling));
/** A known unit of measure, the longer spellings first, or a currency. */
const known = `(?:${[...letterUnits]
  .sort((a, b) => b.length - a.length)
  .map(escaped)
  .join('|')}|[A-Z]{3})${unitEnd}`;
const foot = `(?:'|[ \\t]*ft${unitEnd})`;
const inch = `(?:"|[ \\t]*in${unitEnd})`;

const values: readonly Rule[] = [
  // Feet and inches, joined by a hyphen, a space or nothing: 6'-3 1/2", 6ft 3-1/2in.
  {
    match: `(${number})(${foot})(?:(-)|[ \\t]*)(${number})(${inch})`,
    captures: named({
      1: 'constant.numeric',
      2: 'keyword.other.unit',
      3: 'punctuation.separator.feet-and-inches',
      4: 'constant.numeric',
      5: 'keyword.other.unit',
    }),
  },
  // Any letters that touch a number are taken for a unit of measure; those that are none are marked.
  {
    match: String.raw`(${number})(?:(["']|[ \t]*${known})|([\p{L}°%µ][\p{L}\p{N}²³°]*))?`,
    captures: named({ 1: 'constant.numeric', 2: 'keyword.other.unit', 3: 'invalid.illegal.unit' }),
  },
  {
    match: '(")[^"]*("|$)',
    name: 'string.quoted.double.closet',
    captures: named({ 1: 'punctuation.definition.string.begin', 2: 'punctuation.definition.string.end' }),
  },
  { match: String.raw`(\.)(${word})`, captures: named({ 1: 'punctuation.accessor', 2: 'variable.other.property' }) },
  { match: String.raw`${word}(?=\()`, name: 'support.function.closet' },
  { match: word, name: 'variable.other.closet' },
  { match: '=', name: 'keyword.operator.assignment.closet' },
  { match: '[-+*/]', name: 'keyword.operator.arithmetic.closet' },
  { match: ',', name: 'punctuation.separator.comma.closet' },
  { match: ':', name: 'punctuation.separator.type.closet' },
  { match: String.raw`\(`, name: 'punctuation.section.parens.begin.closet' },
  { match: String.raw`\)`, name: 'punctuation.section.parens.end.closet' },
];

// Helpers

function oneOf(texts: readonly string[]): string {
  const sorted = [...new Set(texts)].sort().map(escaped);
  return sorted.length === 1 ? (sorted[0] as string) : `(?:${sorted.join('|')})`;
}

function escaped(text: string): string {
  return text.replace(/[.*+?^${}()|[\]\\]/g, String.raw`\$&`);
}

/** Captures by number, each with the language at the end of its scope. */
function named(scopes: Readonly<Record<number, string>>): Captures {
  return Object.fromEntries(Object.entries(scopes).map(([group, scope]) => [group, { name: `${scope}.closet` }]));
}

function unique(rules: readonly Rule[]): Rule[] {
  const seen = new Map(rules.map((rule) => [JSON.stringify(rule), rule]));
  return [...seen.values()];
}

const widest = 160;

/** JSON with each rule on one line where it fits, so that a changed word changes a line. */
function printed(value: unknown, indent: string): string {
  const flat = JSON.stringify(value);
  if (indent.length + flat.length <= widest || typeof value !== 'object' || value === null) return flat;
  const deeper = `${indent}  `;
  const list = Array.isArray(value);
  const lines = list
    ? value.map((item) => deeper + printed(item, deeper))
    : Object.entries(value)
        .filter(([, item]) => item !== undefined)
        .map(([key, item]) => `${deeper}${JSON.stringify(key)}: ${printed(item, deeper)}`);
  return `${list ? '[' : '{'}\n${lines.join(',\n')}\n${indent}${list ? ']' : '}'}`;
}
