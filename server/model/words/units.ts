import { word } from './entry.ts';

/** Units, surveys and loose parts. */
export const unitWords = [
  word(
    'unit',
    ['file'],
    '<name:name> <template:ref template> [mirrored]',
    'One closet in one flat. Parameters of the template are given by their names: `width 93-3/4in`.',
    'unit A-101 linen { floor 1; flat A-101 }',
    { block: 'unit', repeats: true },
  ),
  word(
    'survey',
    ['file'],
    '<unit:ref unit>',
    'What was measured in one unit, as it is on site. It replaces what is drawn.',
    'survey A-101 { wall back { length 35-7/8in at 42in } }',
    { block: 'survey', needsBlock: true, repeats: true },
  ),
  word(
    'extra',
    ['file'],
    '<name:name>',
    'Loose parts, cut with the rest: spares, repairs, a job without a layout.',
    'extra spare-shelves { board white-12; length 24in; count 6 }',
    { block: 'extra', needsBlock: true, repeats: true },
  ),

  word('floor', ['unit', 'extra'], '<value:label>', 'The floor of the building, to group by.', 'floor 1'),
  word('flat', ['unit', 'extra'], '<value:label>', 'The flat, to group by.', 'flat A-101'),
  word('phase', ['unit', 'extra'], '<value:label>', 'The phase of the work, to group by.', 'phase 1'),
  word('count', ['unit', 'extra'], '<value:count>', 'How many there are, all alike.', 'count 6', { fallback: '1' }),
  word(
    'override',
    ['unit'],
    '<thing:ref thing>',
    'Changes single statements of one thing of the template, for this unit, as it stands on site.',
    'override main { width 30in }',
    { block: 'override', needsBlock: true, repeats: true },
  ),

  word(
    'wall',
    ['survey'],
    '<name:ref wall>',
    'What was measured on one wall.',
    'wall back { length 35-7/8in at 42in }',
    { block: 'survey-wall', needsBlock: true, repeats: true },
  ),
  word('opening', ['survey'], '<name:name>', 'What was measured of an opening.', 'opening front { width 59-7/8in }', {
    block: 'survey-opening',
    needsBlock: true,
    repeats: true,
  }),
  word(
    'corner',
    ['survey'],
    '<a:ref wall> <b:ref wall>',
    'The angle measured in a corner.',
    'corner back left { angle 91deg }',
    { block: 'corner', repeats: true },
  ),
  word('taken', ['survey'], '<value:text>', 'When and by whom, in words.', 'taken "12 March"'),
  word(
    'length',
    ['survey-wall'],
    '<value:length> [at <height:length>]',
    'Length of the wall, at a height. Between two heights it is interpolated; readings without a height give their least.',
    'length 35-7/8in at 42in',
    {
      repeats: true,
      plausible: 600,
      datum: 'face to face; the height from the finished floor at its highest point along the wall',
    },
  ),
  word('height', ['survey-wall'], '<value:length>', 'Height from floor to ceiling, as measured.', 'height 95-1/2in', {
    plausible: 240,
    datum: 'from the finished floor at its highest point along the wall to the ceiling',
  }),
  word(
    'floor',
    ['survey-wall'],
    'falls <value:length> [to (left | right)]',
    'How far the floor falls off from its highest point along the wall.',
    'floor falls 1/4in to left',
    { notYet: true, plausible: 12 },
  ),

  word('board', ['extra'], '<board:ref board>', 'What the parts are cut from.', 'board white-12'),
  word('rod', ['extra'], '<rod:ref rod>', 'What the parts are cut from.', 'rod chrome'),
  word('length', ['extra'], '<value:length>', 'Finished length of each.', 'length 24in', { plausible: 480 }),
  word(
    'matched',
    ['extra'],
    '<set:name>',
    'The matched set they belong to, by a name of yours: all of them, and those of other loose parts that are written with the same name for the same floor, flat and phase, are cut from one board, one after another in the order in which they are written.',
    'matched spare-fronts',
    { fallback: 'each may come from any board' },
  ),
  word('why', ['extra'], '<value:text>', 'What they are for.', 'why "spares for the rack"'),
];
