/** The JSON Schema of what the commands about surveys write. */
import {
  answer,
  length,
  list,
  object,
  oneOf,
  orNull,
  ref,
  type Schema,
  text,
  textOrNull,
  whole,
  yesOrNo,
} from './schema.ts';

export const surveyCommands = ['import', 'exceptions'] as const;

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
  answer('exceptions', 'projects', 'exceptionsProject'),
];

const counts = object({
  decision: whole(0, 'Units with errors or warnings that they do not have as drawn.'),
  cutLengths: whole(0, 'Units of which parts are cut to other lengths, or stand elsewhere, and nothing else.'),
  fits: whole(0, 'Units that are built as drawn.'),
});
const groups = list(object({ name: textOrNull('null of units that say none.'), counts }));

export const surveyKinds: Readonly<Record<string, Schema>> = {
  exceptionsProject: object({
    title: text(),
    root: text(),
    counts,
    floors: groups,
    templates: groups,
    exceptions: list(ref('exception'), 'Units with a survey, those that need the most first.'),
  }),
  exception: object({
    unit: text(),
    floor: textOrNull(),
    template: textOrNull(),
    verdict: oneOf('decision', 'cut-lengths', 'fits'),
    wall: orNull(
      object({ name: text(), off: length }),
      'The wall that is most off what is drawn: below nothing where it is shorter. null where no length was measured.',
    ),
    cuts: list(
      object({ part: text(), before: orNull(length), after: orNull(length), difference: length }),
      'Parts that are cut to another length than drawn.',
    ),
    most: ref('length', 'The most by which one of them differs.'),
    others: list(object({ of: text(), what: text() }), 'What else is built otherwise than drawn.'),
    findings: list(
      object({ severity: ref('severity'), rule: text(), message: text(), range: ref('place') }),
      'Errors and warnings that the unit as drawn does not have, and that nobody has agreed to.',
    ),
    range: ref('place', 'Where the unit is declared.'),
  }),
  tableProblem: object({
    sheet: textOrNull('null of a CSV.'),
    cell: text('As a spreadsheet calls it: C7.'),
    found: text('What is there; empty where nothing is.'),
    message: text('What is wrong with it, and what was expected.'),
  }),
};
