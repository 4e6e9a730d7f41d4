/** The reference of the language (grammar/REFERENCE.md), from the vocabulary, the units of measure and the parser. */
import { readingLimits } from '../grammar/limits.ts';
import { type Dimension, type Measure, measures, measuresOf } from '../grammar/measures.ts';
import { headGrammar, tokenNotes } from '../grammar/productions.ts';
import { limitsSection, limitsTitle } from './generate-limits.ts';
import { describeType, dimensionName, type SlotType, shownPhrase, shownSlot, slotsOf } from './model/phrase.ts';
import { LONGEST, TICKS_PER_INCH, TICKS_PER_MM } from './model/ticks.ts';
import { placeName, topWords, vocabulary, wordsIn } from './model/vocabulary.ts';
import type { BlockPlace, WordEntry } from './model/words/entry.ts';

export function reference(): string {
  const places = placesInOrder();
  const parts = [
    '# The language of .closet files: reference',
    '<!-- Written by server/generate.ts from the vocabulary, the units of measure and the parser (npm run generate). Changes made here are lost. -->',
    contents(places),
    reading(),
    heads(),
    quantities(),
    expressions(),
    notation(),
    ...places.map(placeSection),
    limitsSection(),
  ];
  return `${parts.join('\n\n')}\n`;
}

/** The top level, then each block as the words that open it come. */
function placesInOrder(): BlockPlace[] {
  const places: BlockPlace[] = ['file'];
  for (const place of places) {
    for (const { block } of wordsIn(place)) {
      if (block && block !== 'anything' && !places.includes(block)) places.push(block);
    }
  }
  return places;
}

function contents(places: readonly BlockPlace[]): string {
  const sections = [
    'How a file is read',
    'The grammar of a head',
    'Quantities',
    'Expressions',
    'How words are described',
  ];
  return [...sections, ...places.map(placeTitle), limitsTitle]
    .map((title) => `- [${title}](#${anchor(title)})`)
    .join('\n');
}

function reading(): string {
  const { deepestBlocks, deepestParentheses, mostOperators } = readingLimits;
  return `## How a file is read

A file is UTF-8 text. There is one shape for everything, a statement:

\`\`\`
WORD what follows it { statements }
\`\`\`

- The first word says what the statement is about. What follows on the same line is its **head**; what stands
  between braces is its **block**. The \`{\` may stand on the next line.
- A line end or \`;\` ends a statement, always. A space never does. Statements in one block stand in any order.
- \`//\` begins a comment up to the end of the line; \`/*\` and \`*/\` stand around one of any length. Comments that begin
  with \`///\`, on lines of their own above a statement, document it: an editor shows them where the thing is named.
- Names are letters, digits and underscores; the first is no digit. They may hold single hyphens (\`A-101\`,
  \`white-12\`), so a minus between two values has a space on both sides. Capitals matter.
- A text stands between quotation marks and ends on its own line. An inch or foot mark belongs to the number it
  touches: in \`84"\` no text begins.
- Where a \`}\` is missing, the block ends where the indentation returns, or before the next line that begins in
  column 0 with a top-level word (${[...topWords].sort().map(code).join(', ')}). The rest of the file keeps working.
- Blocks nested more than ${deepestBlocks.most} deep are not read, nor is a head beyond ${deepestParentheses.most} parentheses inside each other or
  ${mostOperators.most} operators.`;
}

function heads(): string {
  const tokens = tokenNotes().map(({ name, text }) => `- ${code(name)}: ${text}`);
  return `## The grammar of a head

As the parser has it. Capitals are tokens; \`{ x }\` is any number of x, \`[ x ]\` one or none, \`( x | y )\` one of them.

\`\`\`
${headGrammar()}
\`\`\`

${tokens.join('\n')}

Every text is read: what an \`item\` lists beside \`expression\`, \`TEXT\`, \`","\`, \`":"\` and \`"="\` is reported where it stands and
left out, and an operand or a parenthesis that is missing is reported where it should be. The parenthesis of a \`call\` touches
its word; \`by (a + b)\` is a word and a value. What a head may say is for its first word to decide, in the sections below.`;
}

function quantities(): string {
  const inDimensionOrder = [...new Set(measures.map((m) => m.dimension))];
  const rows = inDimensionOrder.flatMap((dimension) =>
    measures.filter((m) => m.dimension === dimension).map(measureRow),
  );
  return `## Quantities

A number is whole, decimal, a fraction or mixed: \`84\`, \`23.9\`, \`3/4\`, \`21-3/4\`, \`3 1/2\`. Its unit of measure touches it or
stands behind a space: \`84in\`, \`15 lbf/ft2\`. Feet and inches make one length: \`6ft 3-1/2in\`, \`6'-3 1/2"\`.

- **A length always has a unit of measure.** A bare number where a length is expected is an error.
- **Lengths are exact**, in whole ticks of 25 nm: 1/64 in, 0.001 in and 0.001 mm are ${number(TICKS_PER_INCH / 64)}, ${number(TICKS_PER_INCH / 1000)} and
  ${number(TICKS_PER_MM / 1000)} ticks. What is finer than a tick is an error that offers its neighbours. The longest length is ${number(LONGEST / TICKS_PER_MM / 1e6)} km.
- **Money** is a number and the three capital letters of a currency (ISO 4217): \`14.50 EUR\`.
- **Counts** are bare numbers. All quantities but lengths are ordinary floating-point numbers of the size given here.

${table(['written', 'measures', 'size', 'rests on'], rows)}

Sources: 1 in = 25.4 mm exactly, 1 ft = 0.3048 m exactly: NIST Special Publication 811 (2008 edition), appendix B.8. 1 lb =
0.45359237 kg and 1 lbf = 4.4482216152605 N, both exactly: the same, footnotes 22 and 23.`;
}

function measureRow(m: Measure): string[] {
  return [code(m.spelling), dimensionName(m.dimension), sizeOf(m), basis(m.spelling)];
}

/** Columns in line, as the formatter has them. */
function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const widths = head.map((title, i) => Math.max(title.length, ...rows.map((row) => row[i]?.length ?? 0)));
  const lines = [head, widths.map((width) => '-'.repeat(width)), ...rows];
  return lines.map((line) => `| ${line.map((cell, i) => cell.padEnd(widths[i] ?? 0)).join(' | ')} |`).join('\n');
}

const sizeUnits: Readonly<Record<Exclude<Dimension, 'length' | 'money' | 'count'>, string>> = {
  mass: 'kg',
  force: 'N',
  'area-load': 'Pa',
  'line-load': 'N/m',
  'area-mass': 'kg/m²',
  'line-mass': 'kg/m',
  stiffness: 'Pa',
  angle: '°',
  time: 'd',
  share: 'of the whole',
};

function sizeOf({ dimension, size }: Measure): string {
  if (dimension === 'length') return `${number(size)} ticks = ${number(size / TICKS_PER_MM)} mm`;
  const unit = dimension === 'money' || dimension === 'count' ? '' : sizeUnits[dimension];
  // A quotient of exact sizes has no end; 14 digits are as many as any exact size here has.
  const exact = String(size).replace(/\D/g, '').length <= 14;
  if (dimension === 'angle') return `${number(size)}${unit}`;
  return exact ? `${number(size)} ${unit}` : `${number(Number(size.toPrecision(10)))} ${unit} (rounded here)`;
}

function basis(spelling: string): string {
  if (/lbf|psf|psi|ksi/.test(spelling))
    return spelling === 'lbf' ? 'NIST SP 811, exact' : 'from lbf and in, NIST SP 811';
  if (/lb/.test(spelling)) return spelling === 'lb' ? 'NIST SP 811, exact' : 'from lb and in, NIST SP 811';
  if (/^(in|ft|["'])$/.test(spelling)) return 'NIST SP 811, exact';
  return /^(m|mm|cm|N|kg|GPa|MPa|k\w*)(\/m2?)?$/.test(spelling) ? 'SI' : 'by definition';
}

function expressions(): string {
  return `## Expressions

Where a quantity is expected, an expression may stand: \`width - 3/4in\`, \`(a + b) / 2\`, \`max(back.length / 3, 24in)\`.

- \`*\` and \`/\` go before \`+\` and \`-\`; equal ones go from left to right; parentheses go first.
- \`min(a, b, ...)\` and \`max(a, b, ...)\` take quantities of one kind.
- Quantities of one kind can be added and subtracted. Any quantity can be multiplied and divided by a count; a length
  divided by a length is a count. A length multiplied by a length, or added to a count, is an error where it stands.
- A quotient of a length that is no whole number of ticks is rounded down: a part never comes out longer than said.
- In a template, names stand for its parameters and for dimensions that are fixed by themselves: \`back.length\`. A width
  that is still to be found from others is none of those.`;
}

function notation(): string {
  return `## How words are described

Each word stands with what follows it. Words stand for themselves, \`<this>\` for something of yours, \`[ ]\` around what may
be left out, \`( | )\` around a choice, and \`...\` behind what may stand several times with commas between. **Not checked
yet** marks a word that is read and kept, and answered with a note, because nothing is computed from it so far. What is
said of a word holds where it stands; the same word may mean another thing in another block.`;
}

// Places and words

function placeTitle(place: BlockPlace): string {
  return place === 'file' ? 'At the top level of a file' : `In ${placeName(place)}`;
}

function placeSection(place: BlockPlace): string {
  const openers = vocabulary.filter((e) => e.block === place);
  const opened = openers.map((e) => `${code(e.word)} (${e.places.map((p) => link(p)).join(', ')})`);
  const intro = opened.length > 0 ? [`The block of ${opened.join(' and ')}.`] : [];
  const own = wordsIn(place);
  if (place === 'unit')
    intro.push('Beside these words, the parameters of its template by their names: `width 93-3/4in`.');
  if (own.length === 0) intro.push('Statements as in the block of the thing that is changed.');
  return [`## ${placeTitle(place)}`, ...intro, ...own.map((entry) => wordSection(entry, place))].join('\n\n');
}

function wordSection(entry: WordEntry, place: BlockPlace): string {
  const notes = [...slotNotes(entry), ...wordNotes(entry)].map((note) => `- ${note}`);
  const also = entry.places.filter((p) => p !== place);
  if (also.length > 0) notes.push(`- the same in: ${also.map((p) => link(p)).join(', ')}`);
  return [
    `### ${code(entry.word)}${entry.notYet ? ' (not checked yet)' : ''}`,
    `\`\`\`\n${[entry.word, shownPhrase(entry.phrase), shownBlock(entry)].filter((t) => t !== '').join(' ')}\n\`\`\``,
    entry.doc,
    ...(notes.length > 0 ? [notes.join('\n')] : []),
    `\`\`\`closet\n${entry.example}\n\`\`\``,
  ].join('\n\n');
}

function shownBlock(entry: WordEntry): string {
  if (!entry.block) return '';
  return entry.needsBlock ? '{ ... }' : '[{ ... }]';
}

/** A line for each type, with the slots that take it. */
function slotNotes(entry: WordEntry): string[] {
  const byType = new Map<string, Set<string>>();
  for (const { name, type, list } of slotsOf(entry.phrase)) {
    const note = typeNote(type) + (list ? ', one or more' : '');
    byType.set(note, (byType.get(note) ?? new Set()).add(code(`<${shownSlot(name)}>`)));
  }
  return [...byType].map(([note, slots]) => `${[...slots].join(', ')}: ${note}`);
}

function typeNote(type: SlotType): string {
  if (type.kind !== 'quantity') return describeType(type);
  if (type.dimension === 'money') return `${describeType(type)} (${code('14.50 EUR')})`;
  const units = measuresOf(type.dimension).map(code).join(', ');
  return units === '' ? describeType(type) : `${describeType(type)} (${units})`;
}

function wordNotes(entry: WordEntry): string[] {
  const notes: string[] = [];
  if (entry.block) {
    const inside = entry.block === 'anything' ? 'kept as it stands' : `see ${link(entry.block)}`;
    notes.push(`${entry.needsBlock ? 'needs' : 'may have'} a block: ${inside}`);
  }
  if (entry.fallback !== undefined) notes.push(`default: ${entry.fallback}`);
  if (entry.datum !== undefined) notes.push(`measured: ${entry.datum}`);
  if (entry.repeats) notes.push('may stand more than once');
  // Of what is counted or loaded nothing is suspected: a slip is one of the unit of measure of a length.
  if (entry.plausible !== undefined && takesLength(entry))
    notes.push(`a warning ${bounds(entry)}, as a slip of the unit of measure`);
  if (entry.notYet) notes.push('**not checked yet**');
  return notes;
}

/** `above 240 in`, `below 24 in or above 240 in` */
function bounds({ plausible, leastPlausible }: WordEntry): string {
  return `${leastPlausible === undefined ? '' : `below ${leastPlausible} in or `}above ${plausible} in`;
}

/** The value of a word is a length; where no slot is called that, any of them is. */
function takesLength({ phrase }: WordEntry): boolean {
  const slots = slotsOf(phrase);
  const values = slots.filter(({ name }) => name === 'value');
  return (values.length > 0 ? values : slots).some(
    ({ type }) => type.kind === 'quantity' && type.dimension === 'length',
  );
}

function link(place: BlockPlace): string {
  const title = placeTitle(place);
  return `[${title.charAt(0).toLowerCase()}${title.slice(1)}](#${anchor(title)})`;
}

/** The anchor that renderers of Markdown make of a heading. */
function anchor(title: string): string {
  return title.toLowerCase().replaceAll(' ', '-');
}

function code(text: string): string {
  return text.includes('`') ? text : `\`${text}\``;
}

function number(value: number): string {
  return value.toLocaleString('en', { maximumFractionDigits: 20 });
}
