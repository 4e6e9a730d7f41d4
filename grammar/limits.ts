/**
 * How much is read: nothing that stands in a file makes the reading deep, long or endless. One table; whoever has a
 * limit reads it here. Those of the rooms behind stand in server/model/limits.ts, which shows these beside its own.
 */

export interface Bound {
  readonly most: number;
  /** What is counted, as it reads behind the number. */
  readonly counts: string;
  /** Why just so many, in plain words. */
  readonly why: string;
  /** Who says that there is more: the id of a rule, or a sentence where no finding can say it. */
  readonly told: { readonly rule: string } | { readonly by: string };
}

export const readingLimits = {
  deepestBlocks: {
    most: 40,
    counts: 'blocks inside each other',
    why: 'The language needs five. What walks through blocks calls itself once a block.',
    told: { rule: 'nested-too-deep' },
  },
  deepestParentheses: {
    most: 40,
    counts: 'parentheses inside each other',
    why: 'A sum of lengths needs two or three. The parser calls itself a dozen times for each.',
    told: { rule: 'nested-too-deep' },
  },
  mostOperators: {
    most: 500,
    counts: 'operators in one statement',
    why: 'The tree of a sum is as deep as the sum is long, and is walked from the top.',
    told: { rule: 'nested-too-deep' },
  },
  longestHead: {
    most: 20_000,
    counts: 'characters of a statement before its block',
    why: 'A thousand studs in a list take twelve thousand. An editor reads a statement anew with every key.',
    told: { rule: 'too-long' },
  },
  longestName: {
    most: 200,
    counts: 'characters of a name',
    why: 'Names stand in messages, on drawings and on labels.',
    told: { rule: 'too-long' },
  },
  longestNumber: {
    most: 40,
    counts: 'characters of a number',
    why: 'A kilometre in ticks has twelve digits. Numbers are kept as exact fractions, which grow with every digit.',
    told: { rule: 'expression-incomplete' },
  },
  mostStatements: {
    most: 10_000,
    counts: 'statements in a block, or together outside of any declaration',
    why: 'The longest block is a template of some hundred zones, or a survey of as many readings. Something else was pasted where there are more.',
    told: { rule: 'too-long' },
  },
  farthestEnd: {
    most: 1000,
    counts: 'declarations from the start of a block or comment to where it ends',
    why: 'A declaration reaches over the start of others where its end was forgotten; so far its end is looked for.',
    told: { rule: 'block-not-closed' },
  },
} as const satisfies Readonly<Record<string, Bound>>;
