/** The rules of a head written out, from the parser itself, so that the reference cannot say another thing than it does. */
import { headRules, type RuleNode } from './parser.ts';

const widest = 96;

/** What a token is, in words: those whose spelling does not say it. */
const tokenWords: Readonly<Record<string, string>> = {
  Word: 'letters, digits and underscores, the first one no digit; single hyphens inside: `A-101`, `white-12`',
  Number: 'whole, decimal, fraction or mixed: `84`, `23.9`, `.5`, `3/4`, `21-3/4`, `3 1/2`',
  Unit:
    'a unit of measure, behind a number and nowhere else. Letters that touch the number are always taken for one; ' +
    'behind a space only a known one or a currency is. An inch or foot mark touches its number',
  Joint: 'the hyphen between feet and inches: it touches both, `6\'-3 1/2"`',
  Text: 'between quotation marks, on one line',
  Minus: '`-` with a space on both sides; any other `-` that belongs to no word or number is a sign',
  Stray: 'any other character',
};

interface Rule {
  readonly name: string;
  readonly definition: string;
}

/** One line a rule: `{ x }` is any number of x, `[ x ]` one or none, capitals are tokens. */
export function headGrammar(): string {
  const rules = headRules().map((rule): Rule => ({ name: rule.name ?? '', definition: body(rule) }));
  const width = Math.max(...rules.map((r) => r.name.length));
  return rules.map(({ name, definition }) => wrapped(`${name.padEnd(width)} =`, definition, width)).join('\n');
}

/** The tokens that the rules name in capitals, with what they are. */
export function tokenNotes(): readonly { readonly name: string; readonly text: string }[] {
  const names = new Set<string>();
  const visit = (node: RuleNode): void => {
    if (node.type === 'Terminal' && quoted(node) === undefined) names.add(node.name ?? '');
    for (const inner of node.definition ?? []) visit(inner);
  };
  headRules().forEach(visit);
  return [...names].map((name) => {
    const text = tokenWords[name];
    if (text === undefined) throw new Error(`no words for the token ${name}`);
    return { name: name.toUpperCase(), text };
  });
}

/** A choice that is the whole of a rule needs no parentheses. */
function body(rule: RuleNode): string {
  const [only, ...more] = rule.definition ?? [];
  return only?.type === 'Alternation' && more.length === 0 ? choices(only) : sequence(rule);
}

function choices(node: RuleNode): string {
  return (node.definition ?? []).map(sequence).join(' | ');
}

function sequence(node: RuleNode): string {
  return (node.definition ?? []).map(written).join(' ');
}

function written(node: RuleNode): string {
  switch (node.type) {
    case 'NonTerminal':
      return node.name ?? '';
    case 'Terminal':
      return quoted(node) ?? (node.name ?? '').toUpperCase();
    case 'Option':
      return `[ ${sequence(node)} ]`;
    case 'Repetition':
      return `{ ${sequence(node)} }`;
    case 'RepetitionMandatory':
      return `${sequence(node)} { ${sequence(node)} }`;
    case 'Alternation':
      return `( ${choices(node)} )`;
    default:
      throw new Error(`no notation for ${node.type}`);
  }
}

/** A token of one fixed character, as it is written in a file. */
function quoted(terminal: RuleNode): string | undefined {
  const character = /^\\?([^\\])$/.exec(terminal.pattern ?? '')?.[1];
  return character === undefined ? undefined : `"${character}"`;
}

/** Breaks a long line before a bar. */
function wrapped(start: string, definition: string, indent: number): string {
  const lines: string[] = [];
  let line = start;
  for (const part of definition.split(/ (?=\| )/)) {
    if (line.length + 1 + part.length > widest) {
      lines.push(line);
      line = ' '.repeat(indent);
    }
    line += ` ${part}`;
  }
  return [...lines, line].join('\n');
}
