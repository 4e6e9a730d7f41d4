/** For each rule a text that it speaks of, and what it says: written by tests/messages/examples.ts from the texts that the rules are tested with. */
import examples from './rule-examples.json' with { type: 'json' };

export interface RuleExample {
  /** A `.closet` text, which leaves out the boards, the rod and the stock that most projects have. */
  readonly text: string;
  /** What the finding is about, in the text: a line from 0, and columns in it. */
  readonly marked: { readonly line: number; readonly from: number; readonly to: number };
  readonly message: string;
  readonly advice?: string;
  /** The lines that a fix makes of some, where one does. */
  readonly mended?: string;
}

const all: Readonly<Record<string, RuleExample | undefined>> = examples;

/** The example of a rule. None is there for what no short text shows, as a file that cannot be read. */
export function exampleOf(rule: string): RuleExample | undefined {
  return all[rule];
}

/** The text with a row of carets under what the finding is about. */
export function exampleText({ text, marked: { line, from, to } }: RuleExample): string {
  const rows = text.split('\n');
  rows.splice(line + 1, 0, ' '.repeat(from) + '^'.repeat(Math.max(1, to - from)));
  return rows.join('\n');
}
