import { word } from './entry.ts';

const fittings = ['shelf', 'hanging-rod', 'drawers'] as const;
const boards = ['shelf', 'shelves', 'panels'] as const;

/** What stands in a zone. */
export const fittingWords = [
  word(
    'shelf',
    ['zone'],
    '<name:name>',
    'A shelf between the faces that hold it: walls, panels, or the ends of the zone.',
    'shelf high { at 84in; depth 12in; board white-12 }',
    { block: 'shelf', needsBlock: true, repeats: true },
  ),
  word('rod', ['zone'], '<name:name>', 'A hanging rod.', 'rod upper { under high by 3in; for shirt; pole chrome }', {
    block: 'hanging-rod',
    needsBlock: true,
    repeats: true,
  }),
  word(
    'panels',
    ['zone'],
    '[<name:name>]',
    'Upright panels inside the zone, one at each end: a tower.',
    'panels { depth 12in; board white-12; height 84in }',
    { block: 'panels' },
  ),
  word(
    'shelves',
    ['zone'],
    '<name:name> between (floor | <lower:ref fitting>) and <upper:ref fitting>',
    'A row of shelves at equal pitch between two fittings, or between the floor and one.',
    'shelves loose between low and high { count 2 }',
    { block: 'shelves', needsBlock: true, repeats: true },
  ),
  word(
    'drawers',
    ['zone'],
    '<name:name>',
    'A stack of drawers, bought as boxes. What they need in front of them when they are pulled out is checked.',
    'drawers chest { count 2; at 8in; height 8in; depth 14in }',
    { block: 'drawers', needsBlock: true, repeats: true },
  ),

  word(
    'at',
    fittings,
    '(from <least:length> to <most:length> | <value:length>)',
    'Its height, or the range it may be in.',
    'at 84in',
    {
      plausible: 240,
      datum:
        'from the finished floor at its highest point along the wall to the underside of a shelf (at the front edge if tilted) or of the lowest drawer, or to the centre of a rod',
    },
  ),
  word(
    'under',
    fittings,
    '<of:ref fitting> by [at least] <value:length>',
    'How far under another fitting of the zone: a rod by its centre, a shelf by its upper face. What is to be at least so far under it is as near as all else leaves it.',
    'under high by 3in',
    { plausible: 240, datum: 'from the underside of the shelf above (or the centre of the rod above)' },
  ),
  word(
    'above',
    fittings,
    '<of:ref fitting> by [at least] <value:length>',
    'How far above another fitting of the zone.',
    'above low by 12in',
    { plausible: 240, datum: 'from the upper face of the shelf below (or the centre of the rod below)' },
  ),
  word('depth', boards, '<value:length>', 'Front to back.', 'depth 12in', {
    plausible: 48,
    fallback: 'the depth the zone or template gives, or the depth of the board',
  }),
  word('board', boards, '<board:ref board>', 'What it is cut from.', 'board white-12', {
    fallback: 'the board the zone or template gives',
  }),
  word('pole', ['hanging-rod'], '<rod:ref rod>', 'The rod it is cut from.', 'pole chrome', {
    fallback: 'the rod the zone or template gives',
  }),
  word('for', ['hanging-rod'], '<garments:ref garment>...', 'What hangs on it.', 'for shirt', { repeats: true }),
  word(
    'from',
    ['shelf', 'hanging-rod', 'panels', 'shelves', 'drawers'],
    'wall <offset:length>',
    'Distance from the face of the wall: of the centre of a rod, or of the back edge of a shelf, panel or drawer.',
    'from wall 10in',
    { plausible: 60, fallback: '12in for a rod, 0in for a board', datum: 'from the face of the wall' },
  ),
  word(
    'held',
    ['shelf', 'hanging-rod', 'shelves'],
    'by <hardware:ref hardware>',
    'What holds its ends; what that takes off is taken off instead of what the material says.',
    'held by end-cup',
  ),
  word('tilted', ['shelf'], '[by <angle:angle>]', 'A shelf that slopes to the front: a shoe shelf.', 'tilted', {
    fallback: 'level',
  }),
  word('fixed', ['shelf'], '', 'Fastened, so that it ties the panels together.', 'fixed', {
    fallback: 'it can be moved',
  }),
  word('count', ['shelves'], '<value:count>', 'How many shelves the row has.', 'count 2', { plausible: 100 }),
  word(
    'pitch',
    ['shelves'],
    '(from <least:length> to <most:length> | <value:length>)',
    'Underside to underside of neighbouring shelves of the row.',
    'pitch from 10in to 40in',
    { plausible: 96 },
  ),
  word('height', ['panels'], '<value:length>', 'Upper end of the panels.', 'height 84in', {
    plausible: 240,
    fallback: 'the upper face of the highest shelf in the zone',
    datum: 'from the finished floor',
  }),
  word('foot', ['panels'], '<value:length>', 'Lower end of the panels.', 'foot 4in', {
    plausible: 240,
    fallback: '0in: they stand on the floor',
    datum: 'from the finished floor',
  }),
  word('side', ['panels'], '(left | right | both)', 'At which ends of the zone a panel stands.', 'side both', {
    fallback: 'both',
  }),
  word(
    'free-standing',
    ['panels'],
    '',
    'The tower stands by itself, fastened to no wall. It can tip: the trade fastens towers to the wall.',
    'free-standing',
    { fallback: 'it is built in' },
  ),
  word('count', ['drawers'], '<value:count>', 'How many drawers stand one above the other.', 'count 3', {
    plausible: 30,
    fallback: '1',
  }),
  word('height', ['drawers'], '<value:length>', 'Height of each drawer front.', 'height 8in', { plausible: 48 }),
  word('depth', ['drawers'], '<value:length>', 'Front to back of the closed drawer.', 'depth 14in', {
    plausible: 48,
    fallback: 'the depth the zone or template gives',
  }),
  word('pull-out', ['drawers'], '<value:length>', 'How far a drawer comes out.', 'pull-out 12in', {
    plausible: 48,
    fallback: 'its depth',
  }),
  word('weight', ['drawers'], '<value:mass>', 'What one drawer weighs with what is in it.', 'weight 20 lb'),
  word('pull', ['drawers'], '(bar | knob | edge | loop)', 'What a hand takes hold of to open a drawer.', 'pull bar'),

  word(
    'carried',
    ['template', 'zone', 'board', 'rod', 'shelf', 'hanging-rod', 'shelves', 'panels'],
    'by <hardware:ref hardware>...',
    'The hardware that fastens it to the wall or to what is beside it: supports, brackets, hooks, ties. How many and where, the hardware says.',
    'carried by rear-clip',
    { repeats: true, fallback: 'what the zone, the template or the material says' },
  ),
  word(
    'matched',
    ['template', 'zone', 'shelf', 'shelves', 'panels', 'hanging-rod'],
    '(none | <set:name>)',
    'The matched set it belongs to, by a name of yours: all parts of one unit with the same name are cut from one board, one after another in the order in which they are written, so that grain or colour goes on from one to the next. Of several materials, one board of each. Said of a zone or a template, it holds for the shelves and panels in it; a rod says so itself.',
    'matched fronts',
    { fallback: 'what the zone or the template says; otherwise each part may come from any board' },
  ),
  word(
    'load',
    ['shelf', 'shelves'],
    '<value:area-load>',
    'What is to lie on it, spread over its whole area.',
    'load 40 lbf/ft2',
    { fallback: 'the load of the policy in force' },
  ),
  word(
    'load',
    ['hanging-rod'],
    '<value:line-load>',
    'What is to hang on it, spread over its length.',
    'load 20 lbf/ft',
    {
      fallback: 'the load of the policy in force, or what its garments weigh',
    },
  ),
  word(
    'line-load',
    ['shelf', 'shelves'],
    '<value:line-load>',
    'What is to lie on it, by its length: books, for example.',
    'line-load 25 lbf/ft',
  ),
  word(
    'point-load',
    ['shelf', 'hanging-rod', 'shelves'],
    '<value:force>',
    'A single load in the middle of it.',
    'point-load 40 lbf',
  ),
  word(
    'edge',
    ['shelf', 'shelves'],
    '<height:length> of <board:ref board>',
    'A strip along its front edge that stiffens it, upright, its top flush with the upper face.',
    'edge 1-1/2in of white-12',
    { plausible: 12 },
  ),
  word(
    'holds',
    ['hanging-rod'],
    '<count:count> <garment:ref garment>',
    'How many of a garment are to hang on it.',
    'holds 20 shirt',
    { repeats: true, plausible: 1000 },
  ),
];
