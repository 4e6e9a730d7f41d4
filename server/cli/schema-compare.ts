/** The JSON Schema of a change report. */
import {
  length,
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

const ends = orNull(object({ least: length, most: length }));
const found = object({ severity, rule: text(), message: text() });

export const compared: Readonly<Record<string, Schema>> = {
  value: {
    description: 'A length, a count, or words; null where the thing was not there.',
    anyOf: [length, { type: 'integer' }, { type: 'string' }, { type: 'null' }],
  },
  change: object({
    kind: oneOf(
      'part',
      'height',
      'zone',
      'wall',
      'opening',
      'fixture',
      'drawers',
      'fitting',
      'unit',
      'finding',
      'other',
    ),
    of: text('Path or name of the thing; empty for the unit itself.'),
    what: text('What of it.'),
    before: ref('value'),
    after: ref('value'),
    spread: orNull(
      object({ before: ends, after: ends }),
      'Where the lengths differ from unit to unit: by the same amount in all of them.',
    ),
  }),
  sideTotals: object({
    units: whole(0),
    materials: list(
      object({ material: text(), boards: whole(0), stockLength: length, waste: length, price: orNull(ref('money')) }),
    ),
    hardware: list(object({ name: text(), count: whole(0) })),
    hardwarePrice: orNull(ref('money'), 'null where something that is needed has no price.'),
    counts: object({ errors: whole(0), warnings: whole(0), notes: whole(0) }),
  }),
  comparedProject: object({
    title: text(),
    before: text('The folder or revision that it is compared with.'),
    after: text(),
    alike: yesOrNo('Nothing that is cut, bought or mounted differs. Findings and names may.'),
    summary: text(),
    groups: list(
      object({
        template: textOrNull(),
        units: list(text()),
        count: whole(0, 'Counts of units multiplied out.'),
        changes: list(ref('change')),
      }),
      'Changes that the same units share, the farthest reaching first.',
    ),
    added: list(text()),
    removed: list(text()),
    renamed: list(object({ before: text(), after: text() })),
    findings: object({ added: list(found), gone: list(found) }, 'Those that no unit has for itself.'),
    totals: object({ before: ref('sideTotals'), after: ref('sideTotals') }),
  }),
};
