/** The JSON Schema of what the commands about surveys write. */
import { list, object, oneOf, orNull, ref, type Schema, text, textOrNull, whole, yesOrNo } from './schema.ts';

export const surveyCommands = ['import'] as const;

export const surveyAnswers: readonly Schema[] = [
  object({
    command: { const: 'import' },
    table: text('As it was named.'),
    taken: yesOrNo('false where something in the table stands in the way: then nothing of it was taken.'),
    written: yesOrNo('false of a trial, and of a table that was not taken.'),
    problems: list(ref('tableProblem'), 'At most 1,000, from the top of the table down.'),
    problemCount: whole(0, 'Of all cells in the way.'),
    reasons: list(text(), 'Why it was not taken where no cell is to blame.'),
    asks: list(oneOf('unit-of-measure', 'decimal-comma'), 'What has to be said of the table before it can be read.'),
    surveys: list(
      object({ unit: text(), change: oneOf('new', 'changed', 'same'), file: text() }),
      'What became of the survey of each unit in the table.',
    ),
    edits: list(object({ range: ref('place'), text: text('What takes the place of the range.') })),
    created: orNull(object({ file: text(), text: text() }), 'A file that was not there.'),
    mapping: orNull(
      object({ file: text(), text: text() }),
      'The mapping file as it is kept from now on; null where it knew all of the columns.',
    ),
    notes: list(text(), 'Worth a look, and no reason to take nothing.'),
  }),
];

export const surveyKinds: Readonly<Record<string, Schema>> = {
  tableProblem: object({
    sheet: textOrNull('null of a CSV.'),
    cell: text('As a spreadsheet calls it: C7.'),
    found: text('What is there; empty where nothing is.'),
    message: text('What is wrong with it, and what was expected.'),
  }),
};
