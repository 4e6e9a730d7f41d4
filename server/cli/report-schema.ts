/**
 * The JSON Schema (draft 2020-12) of what `--format json` writes. `storypole schema` prints it; a test holds every
 * command's output to it, unknown fields refused.
 */
import {
  answer,
  length,
  lengthOrNull,
  list,
  object,
  oneOf,
  orNull,
  ref,
  type Schema,
  severity,
  text,
  textOrNull,
  whole,
  yesOrNo,
} from './schema.ts';
import { compared } from './schema-compare.ts';
import { editorAnswers, editorCommands, editorKinds } from './schema-editor.ts';
import { exported } from './schema-export.ts';
import { plan } from './schema-plan.ts';
import { surveyAnswers, surveyCommands, surveyKinds } from './schema-survey.ts';
import { tool } from './tool.ts';

const values = {
  length: object(
    {
      ticks: { type: 'integer', description: 'Exact.' },
      mm: { type: 'number' },
      text: text('As the project shows it; a ~ in front says that it is finer than what is shown.'),
    },
    'A length. One tick is 25 nm: 1 in is 1,016,000 ticks and 1 mm is 40,000.',
  ),
  range: object(
    {
      ticks: { type: 'integer' },
      mm: { type: 'number' },
      text: text(),
      least: length,
      most: orNull(length, 'null where nothing bounds it.'),
    },
    'A length that may be free within a range. Parts are made for the length itself.',
  ),
  money: object({ hundredths: { type: 'integer' }, text: text() }, 'An amount in the currency of the project.'),
  severity: oneOf('error', 'warning', 'note'),
  point: object(
    { line: whole(1, 'From 1.'), column: whole(1, 'From 1.'), offset: whole(0, 'From the start of the file.') },
    'Columns and offsets count UTF-16 code units.',
  ),
  place: object(
    {
      file: text(
        'From the current folder where that is shorter, else absolute; with forward slashes. <starter set> for what comes with the tool.',
      ),
      start: ref('point'),
      end: ref('point'),
    },
    'A stretch of a file. Its end is exclusive.',
  ),
};

const findings = {
  compared: {
    description: 'A length, a plain count, or an amount of a unit of measure.',
    anyOf: [length, object({ count: { type: 'number' } }), object({ amount: { type: 'number' }, unit: text() })],
  },
  comparison: object(
    {
      what: text(),
      measured: ref('compared'),
      relation: oneOf('at least', 'at most', 'equal to'),
      limit: ref('compared'),
    },
    '`what` was `measured`, and should be `relation` `limit`.',
  ),
  fix: object(
    {
      title: text(),
      edits: list(object({ range: ref('place'), text: text('What takes the place of the range.') })),
    },
    'A change of text that would mend it. Its edits belong together and do not overlap.',
  ),
  working: list(
    {
      type: 'object',
      properties: { what: text(), value: text(), how: text('The formula it came by.') },
      required: ['what', 'value'],
    },
    'Every number on the way to a comparison, in its order, as people read it.',
  ),
  finding: object({
    rule: text('See storypole explain RULE.'),
    family: text(),
    severity,
    message: text('What is wrong, with the numbers compared.'),
    advice: textOrNull('How to mend it.'),
    range: ref('place'),
    about: textOrNull('The fitting or material that it is about: what an accept statement names.'),
    comparison: orNull(ref('comparison')),
    working: ref('working'),
    related: list(object({ message: text(), range: ref('place') })),
    reach: list(text(), 'Names of the units that it reaches, where it stands in a template.'),
    fixes: list(ref('fix')),
  }),
  project: object(
    {
      title: text('Empty for a file that belongs to no project.'),
      root: text('The folder that declares the project; the file where there is none.'),
      declared: yesOrNo('False for a file that belongs to no project and is looked at by itself.'),
      files: list(text(), 'The chosen files.'),
      show: oneOf('inches', 'millimetres'),
      currency: textOrNull(),
      counts: object(
        { errors: whole(0), warnings: whole(0), notes: whole(0) },
        'Of the findings in the chosen files, those that are not listed included; in cuts and plan, of the whole project.',
      ),
    },
    'What check, cuts and plan say of a project.',
  ),
  checkProject: {
    allOf: [
      ref('project'),
      object({
        findings: list(
          ref('finding'),
          'In the order of files and of places in them. --severity leaves out what is below it.',
        ),
      }),
    ],
  },
};

const piece = {
  material: text(),
  length: ref('length', 'Finished length.'),
  depth: lengthOrNull,
  thickness: lengthOrNull,
  quantity: whole(0, 'Counts of units multiplied out.'),
};

const cuts = {
  step: object(
    {
      kind: oneOf('wall', 'zone', 'inset', 'other-zones', 'height', 'panel', 'end', 'given', 'rounding'),
      text: text(),
      amount: length,
    },
    'One line of how a length came about.',
  ),
  part: object({
    path: text('The fitting it is for: zone.shelf.'),
    kind: oneOf('shelf', 'rod', 'panel'),
    ...piece,
    wall: text(),
    zone: text(),
    height: ref('length', 'Underside of a shelf, centre of a rod, foot of a panel.'),
    matched: textOrNull('The matched set it is of: cut from one board with the others of that name in the unit.'),
    steps: list(ref('step'), 'Their amounts add up to the length.'),
  }),
  wall: object({
    name: text(),
    nominal: ref('length', 'As drawn.'),
    length: ref('length', 'As it counts: the least reading of the survey, or as drawn.'),
    leftOver: list(object({ from: length, width: length }), 'What no zone takes.'),
  }),
  zone: object({
    path: text(),
    kind: oneOf('zone', 'gap'),
    wall: text(),
    from: ref('range', 'From the left end of the wall, for a person inside who faces it.'),
    width: ref('range'),
    fittings: list(
      object({
        path: text(),
        kind: oneOf('shelf', 'rod', 'panel', 'drawers'),
        height: ref('range'),
        tilted: yesOrNo(),
      }),
    ),
  }),
  levelLine: object(
    {
      wall: text(),
      height: length,
      from: length,
      length,
      mark: ref('length', 'The length rounded up to a convenient mark.'),
      shelves: list(text()),
    },
    'A line on the wall: the undersides of shelves at one height in neighbouring zones.',
  ),
  unit: object({
    name: text(),
    range: ref('place'),
    template: textOrNull('null where the template is not known.'),
    mirrored: yesOrNo(),
    count: whole(0, 'How many units of this name there are.'),
    floor: textOrNull(),
    flat: textOrNull(),
    phase: textOrNull(),
    surveyed: yesOrNo('Whether its walls were measured.'),
    resolved: yesOrNo('False where it could not be worked out, so that it has no parts.'),
    walls: list(ref('wall')),
    zones: list(ref('zone')),
    parts: list(ref('part')),
    lines: list(ref('levelLine')),
  }),
  cutsProject: {
    allOf: [
      ref('project'),
      object({
        units: list(ref('unit')),
        extras: list(
          object(
            {
              name: text(),
              floor: textOrNull(),
              flat: textOrNull(),
              phase: textOrNull(),
              why: textOrNull(),
              ...piece,
              matched: textOrNull('The matched set they are of.'),
            },
            'Loose parts.',
          ),
        ),
        spares: list(
          object(
            {
              name: text(),
              floor: textOrNull(),
              flat: textOrNull(),
              phase: textOrNull(),
              why: textOrNull(),
              material: text(),
              of: oneOf('board', 'rod'),
              least: length,
              most: length,
              depth: lengthOrNull,
              thickness: lengthOrNull,
              upTo: whole(0),
            },
            'Loose parts that nothing is bought for: any length from least to most, as many as find room in what is left over.',
          ),
        ),
        totals: list(
          object({ of: oneOf('board', 'rod'), ...piece }, 'Equal pieces of all the units and loose parts listed.'),
        ),
      }),
    ],
  },
};

const quantity = whole(0, 'Counts of units multiplied out.');
const hardware = {
  name: text(),
  is: textOrNull('What it does: support, bracket, hook, cup, tie, pin, cover or anchor.'),
  quantity,
  unsure: whole(0, 'Of these, anchors for walls whose studs are not stated.'),
};

const takeoff = {
  screws: object({ size: text('As it is written in the hardware.'), quantity, for: list(text()) }),
  missing: object(
    {
      unit: text(),
      part: textOrNull('null for a unit that cannot be worked out.'),
      kind: oneOf('shelf', 'rod', 'panel', 'drawers', 'unit'),
      named: list(text(), 'Hardware that is named for it and does not say what it does.'),
    },
    'What is not counted, as nothing is known of what holds it.',
  ),
  fixing: object(
    {
      part: text(),
      hardware: text(),
      is: text(),
      wall: textOrNull('The wall that `at` is along; null where the wall is not known.'),
      at: ref('length', 'From the left end of the wall, for a person inside who faces it.'),
      out: ref('length', 'Out from the face of the wall of its part.'),
      height: ref('length', 'From the floor.'),
      hold: oneOf('stud', 'anchor', 'not-known', 'part'),
      stud: orNull(length, 'Centre of the stud that it meets.'),
      anchor: textOrNull('Hardware that is set where no stud is met.'),
      shift: ref('length', 'How far it was moved to the right to meet a stud; negative to the left.'),
      reason: oneOf('spread', 'moved', 'bracket', 'end', 'panel'),
    },
    'One piece of hardware where it stands.',
  ),
  takeoffProject: {
    allOf: [
      ref('project'),
      object({
        hardware: list(
          object({
            ...hardware,
            packOf: { type: ['integer', 'null'], minimum: 1 },
            packs: { type: ['integer', 'null'], minimum: 0, description: 'Whole packs; null where no pack is stated.' },
            price: orNull(ref('money')),
          }),
        ),
        screws: list(ref('screws')),
        price: orNull(ref('money'), 'All packs, without screws; null where one of them has no price.'),
        missing: list(ref('missing')),
        by: { enum: ['unit', 'floor', 'phase', null] },
        groups: list(
          object({
            name: textOrNull('null for units that do not say.'),
            hardware: list(object(hardware)),
            screws: list(ref('screws')),
            missing: list(ref('missing')),
          }),
        ),
        units: list(
          object({
            name: text(),
            count: whole(0),
            resolved: yesOrNo(),
            fixings: list(ref('fixing'), 'Of one unit.'),
          }),
        ),
      }),
    ],
  },
};

const rules = {
  rule: object({
    id: text(),
    family: text(),
    title: text(),
    severity,
    explanation: text(),
    comparison: textOrNull(),
    source: text('The published source, or what it rests on without one.'),
    editions: list(text(), 'Other editions and documents that state it, or state it otherwise.'),
    needs: list(text(), 'Facts that it needs and a specification may lack.'),
    caution: textOrNull(),
    limits: list(
      object({ name: text(), doc: text(), atLeast: lengthOrNull, atMost: lengthOrNull, source: text() }),
      'What a policy can set.',
    ),
  }),
};

const coverage = {
  coverageProject: {
    allOf: [
      ref('project'),
      object({
        coverage: list(
          object(
            {
              units: list(text(), 'Units of the same geometry under the same policies.'),
              rules: list(
                object({
                  rule: text(),
                  compared: list(
                    object({
                      about: text('The fitting, wall or fixture; empty for the unit as a whole.'),
                      range: ref('place'),
                      comparison: ref('comparison'),
                      holds: yesOrNo(),
                      working: ref('working'),
                    }),
                  ),
                  lacks: list(
                    object({ about: text(), range: ref('place'), needs: text() }),
                    'Comparisons that could not be made, and the fact that each needs.',
                  ),
                }),
                'Rules that compared something or lacked a fact.',
              ),
              nothing: list(text(), 'Rules that found nothing that they are about.'),
            },
            'What the rules looked at in some units.',
          ),
        ),
      }),
    ],
  },
  comparisons: object({
    units: list(text()),
    compared: list(
      object({
        rule: text(),
        about: text(),
        comparison: ref('comparison'),
        holds: yesOrNo(),
        working: ref('working'),
        source: text(),
        caution: textOrNull(),
      }),
    ),
    lacks: list(object({ rule: text(), about: text(), needs: text() })),
  }),
};

export const reportSchema: Schema = {
  $schema: 'https://json-schema.org/draft/2020-12/schema',
  $id: 'urn:storypole:report:1',
  title: 'What storypole writes with --format json',
  description:
    'One document for every command, told apart by `command`. New fields may be added under one version; the version rises when a reader of the older shape would read something wrong.',
  type: 'object',
  properties: {
    version: { const: 1 },
    tool: object({ name: { const: tool.name }, version: text() }),
    command: oneOf(
      'check',
      'coverage',
      'cuts',
      'plan',
      'takeoff',
      'export',
      'explain',
      'explain-at',
      'verify',
      'format',
      'compare',
      ...editorCommands,
      ...surveyCommands,
    ),
  },
  required: ['version', 'tool', 'command'],
  oneOf: [
    answer('check', 'projects', 'checkProject'),
    answer('cuts', 'projects', 'cutsProject'),
    answer('plan', 'projects', 'planProject'),
    answer('verify', 'projects', 'verifiedProject'),
    answer('takeoff', 'projects', 'takeoffProject'),
    answer('export', 'projects', 'exportProject'),
    answer('coverage', 'projects', 'coverageProject'),
    answer('explain', 'rules', 'rule'),
    answer('explain-at', 'comparisons', 'comparisons'),
    ...editorAnswers,
    ...surveyAnswers,
    object({
      command: { const: 'format' },
      files: whole(0, 'Files that were looked at.'),
      written: yesOrNo('false where it was only checked.'),
      changed: list(text('The path of a file that is not in the one style, or was not.')),
      kept: list(object({ file: text(), line: whole(1, 'A declaration that is left as it stands begins here.') })),
    }),
    answer('compare', 'projects', 'comparedProject'),
  ],
  $defs: {
    ...values,
    ...findings,
    ...cuts,
    ...plan,
    ...takeoff,
    ...exported,
    ...rules,
    ...coverage,
    ...editorKinds,
    ...compared,
    ...surveyKinds,
  },
};
