/**
 * The TextMate grammar, from the vocabulary: what an editor colours before the language server has
 * answered, and what sites that show code have instead of one.
 *
 * A rule for each block says which words begin a statement in it, so `width` is a word of the language
 * in a zone and an argument in a unit. A statement's rule knows the words of its phrase and ends with
 * the statement, at `;`, `}` or the end of the line. A line that begins in column 0 with a top-level
 * word ends every block that is still open, as it does for the parser when a brace is missing. (The
 * parser can look for the brace; here a block that is closed must have its lines indented.)
 */
import { captures, comments, oneOf, type Rule, values, word, wordEnd } from './generate-textmate-values.ts';
import { literalsWithin, type Phrase } from './model/phrase.ts';
import { topWords, vocabulary, wordsIn } from './model/vocabulary.ts';
import type { BlockPlace, WordEntry } from './model/words/entry.ts';

const statementEnd = String.raw`(?<=\})|(?=[;}])|^|$`;
const blockEnd = String.raw`(\})|^(?=${oneOf([...topWords])}${wordEnd})`;

export function textMateGrammar(): string {
  const places = [...new Set<BlockPlace>(['anything', ...vocabulary.flatMap((e) => e.block ?? [])])].filter(
    (place) => place === 'anything' || wordsIn(place).length > 0,
  );
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
    beginCaptures: captures({ 0: 'punctuation.section.block.begin' }),
    end: blockEnd,
    endCaptures: captures({ 1: 'punctuation.section.block.end' }),
    patterns: blockPatterns(place),
  };
}

function blockPatterns(place: BlockPlace): Rule[] {
  const entries = wordsIn(place);
  const statements = entries.length > 0 ? placeStatements(entries) : looseStatements();
  const first = place === 'unit' || place === 'anything' ? 'variable.parameter.argument' : 'variable.other';
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
  const { word: text, block: place } = entry;
  const inside = place && wordsIn(place).length > 0 ? place : 'anything';
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
    beginCaptures: captures(scopes),
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
  const { constants, connecting } = literalWords(entries);
  const scopeOf = (literal: string): string =>
    !isWord(literal) ? 'punctuation.separator.type' : constants.has(literal) ? 'constant.language' : 'keyword.other';
  // Literals with a name behind them, by what else decides their rule.
  const naming = new Map<
    string,
    { readonly literals: Set<string>; readonly scopes: [string, string]; readonly after: Leaf[] }
  >();
  for (const entry of entries) {
    for (const [leaf, following] of leavesOf(entry.phrase).follow) {
      const after = [...following];
      const kind = after.find((a) => isName(a) || isType(a));
      if (leaf.kind !== 'literal' || !kind) continue;
      const scopes: [string, string] = [scopeOf(leaf.text), isName(kind) ? nameScope(entry) : 'support.type'];
      const key = JSON.stringify([scopes, isWord(leaf.text) ? '' : leaf.text, nameAfter('', after)]);
      const known = naming.get(key) ?? { literals: new Set(), scopes, after };
      naming.set(key, known);
      known.literals.add(leaf.text);
    }
  }
  const withNames = [...naming.values()].map(({ literals, scopes, after }): Rule => {
    const marks = ![...literals].some(isWord);
    const first = `(${oneOf([...literals])})${marks ? '' : wordEnd}`;
    return {
      match: first + nameAfter(marks ? '[ \\t]*' : '[ \\t]+', after),
      captures: captures({ 1: scopes[0], 2: scopes[1] }),
    };
  });
  const byKind: [Set<string>, string][] = [
    [connecting, 'keyword.other.closet'],
    [constants, 'constant.language.closet'],
  ];
  const alone = byKind.flatMap(([texts, name]): Rule[] => {
    return texts.size > 0 ? [{ match: `${oneOf([...texts])}${wordEnd}`, name }] : [];
  });
  return [...withNames, ...alone];
}

/** The words among the literals of phrases: those that are values of their own, and those that connect. */
function literalWords(entries: readonly WordEntry[]): {
  readonly constants: Set<string>;
  readonly connecting: Set<string>;
} {
  const literals = entries.flatMap((e) => literalsWithin(e.phrase)).filter(({ text }) => isWord(text));
  const connecting = new Set(literals.filter((l) => !l.alone).map((l) => l.text));
  const constants = new Set(literals.map((l) => l.text).filter((text) => !connecting.has(text)));
  return { constants, connecting };
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
