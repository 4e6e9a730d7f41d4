import { word } from './entry.ts';

const start =
  '[(after <after:ref zone> [by <by:length>] | before <before:ref zone> [by <by:length>] | from (left | right) <offset:length> | centred)]';
const width =
  '(fill | share [<weight:count>] | from <least:length> to <most:length> | <value:length>) [at least <atLeast:length>] [at most <atMost:length>]';

/** Templates: parameters, walls, openings, fixtures and zones. */
export const templateWords = [
  word(
    'template',
    ['file'],
    '<name:name> [extends <base:ref template>]',
    'A closet layout for repeated use. `extends` takes over everything of another template; what has the same name is overridden.',
    'template linen { wall back { length 36in; height 96in } }',
    { block: 'template', needsBlock: true, repeats: true },
  ),
  word(
    'parameter',
    ['template'],
    '<name:name> : <type:type> [= <default:value>] [from <least:value> to <most:value>]',
    'Something that each unit gives: a length, count, angle, board, rod, garment or text. With a default, a unit may leave it out; with a range, it must be within.',
    'parameter width: length = 94in from 92in to 98in',
    { repeats: true },
  ),
  word(
    'wall',
    ['template'],
    '<name:name>',
    'A wall: left, back, right or front, as seen from inside the closet by somebody facing it.',
    'wall back { length 94in; height 96in; studs every 16in from 14-1/2in }',
    { block: 'wall', needsBlock: true, repeats: true },
  ),
  word(
    'corner',
    ['template'],
    '<a:ref wall> <b:ref wall>',
    'The corner of two walls: which of them owns it.',
    'corner back left { owner left }',
    { block: 'corner', repeats: true, fallback: 'the back wall owns its corners' },
  ),
  word(
    'opening',
    ['template'],
    '<name:name> [on <wall:ref wall>]',
    'A door or cased opening in a wall. Without `on`, its name is that of the wall.',
    'opening front { width 60in; height 80in; centred }',
    { block: 'opening', needsBlock: true, repeats: true },
  ),
  word(
    'fixture',
    ['template'],
    '(outlet | switch | panel | vent | sprinkler | light | hatch | baseboard | slope) [<name:name>] [on (ceiling | <wall:ref wall>)]',
    'Something in the wall or ceiling that has to stay free.',
    'fixture outlet on back { from left 60in; height 16in }',
    { block: 'fixture', needsBlock: true, repeats: true },
  ),
  word(
    'zone',
    ['template', 'zone'],
    `<name:name> [on <wall:ref wall>] ${start}`,
    'A stretch of a wall that holds fittings. Without a start it begins at the left end. Inside a zone, it is a stretch of that zone.',
    'zone shirts on back { width 48in }',
    { block: 'zone', needsBlock: true, repeats: true },
  ),
  word(
    'gap',
    ['template', 'zone'],
    `<name:name> [on <wall:ref wall>] ${start}`,
    'A zone with nothing in it: room that is meant to be left over.',
    'gap trim on back from right 0in { width 1in }',
    { block: 'gap', needsBlock: true, repeats: true },
  ),
  word('test', ['template'], '<name:text>', 'A test of the template.', 'test "narrowest" { width 92in }', {
    block: 'anything',
    repeats: true,
    notYet: true,
  }),

  word('length', ['wall'], '<value:length>', 'Length of the wall along the floor, corner to corner.', 'length 94in', {
    plausible: 600,
    datum: 'face to face of the walls it meets',
  }),
  word('height', ['wall'], '<value:length>', 'Height of the wall.', 'height 96in', {
    plausible: 240,
    datum: 'from the finished floor at its highest point along the wall to the ceiling',
  }),
  word(
    'studs',
    ['wall', 'survey-wall'],
    '(every <every:length> from <first:length> | <list:length>...)',
    'Where the studs are, to their centres, from the left end.',
    'studs every 16in from 14-1/2in',
    { repeats: true, datum: 'from the left end of the wall to the centre of the stud', plausible: 600 },
  ),
  word(
    'out-of-plumb',
    ['wall', 'survey-wall'],
    '<value:length>',
    'How far the top of the wall leans in.',
    'out-of-plumb 1/4in',
    { notYet: true, plausible: 12 },
  ),
  word(
    'lining',
    ['wall'],
    '<value:length>',
    'Thickness of what covers the studs, which screws pass through before they hold.',
    'lining 1/2in',
    { plausible: 3, fallback: '1/2in, common practice' },
  ),
  word(
    'framing',
    ['wall'],
    '(spf | hem-fir | douglas-fir | southern-pine | spf-south)',
    'The wood of the studs.',
    'framing spf',
  ),
  word(
    'turns',
    ['wall'],
    '<value:angle>',
    'By how much a wall of a polygonal room turns from the one before it, to the right as seen from inside; below 0 to the left. What stands on its walls is compared at these angles.',
    'turns 45deg',
    { fallback: '90deg' },
  ),
  word(
    'owner',
    ['corner'],
    '<wall:ref wall>',
    'The wall whose fittings run into the corner; those of the other wall stop short of them.',
    'owner left',
  ),
  word(
    'angle',
    ['corner'],
    '<value:angle>',
    'The angle between the walls, inside the room. A board cut square is compared with it, and so is what stands on the two walls.',
    'angle 90deg',
    { fallback: '90deg' },
  ),

  word('width', ['opening', 'survey-opening'], '<value:length>', 'Clear width of the opening.', 'width 60in', {
    plausible: 240,
  }),
  word('height', ['opening', 'survey-opening'], '<value:length>', 'Clear height of the opening.', 'height 80in', {
    plausible: 240,
    datum: 'from the finished floor',
  }),
  word(
    'from',
    ['opening', 'survey-opening'],
    '(left | right) <offset:length>',
    'Distance of the opening from that end of its wall.',
    'from left 12in',
    { plausible: 600, datum: 'from that end of the wall to the near side of the opening' },
  ),
  word('centred', ['opening'], '', 'The opening stands in the middle of its wall.', 'centred', {
    fallback: 'centred where no `from` is given',
  }),
  word(
    'leaves',
    ['opening'],
    '(none | sliding | bifold)',
    'What closes the opening. Of sliding leaves half the opening is free at once; folded leaves stand at its jambs.',
    'leaves sliding',
    { fallback: 'none' },
  ),
  word(
    'swing',
    ['opening'],
    '(in | out) [hinged (left | right)]',
    'A leaf that swings into the closet or out of it, and the side of its hinges, seen from inside. What a leaf that swings in meets is checked: it is as wide as the opening and as high.',
    'swing out hinged left',
  ),
  word(
    'clear-floor',
    ['opening'],
    '<width:length> by <depth:length>',
    'The clear floor in front of the opening, outside the closet: along the wall and out from it.',
    'clear-floor 30in by 48in',
    { plausible: 240 },
  ),

  word(
    'from',
    ['fixture'],
    '(left | right | back | front) <offset:length>',
    'Distance of its centre from that end of the wall; on the ceiling, from that wall.',
    'from left 60in',
    { repeats: true, plausible: 600, datum: 'to the centre of the fixture' },
  ),
  word('height', ['fixture'], '<value:length>', 'Height of its centre.', 'height 16in', {
    plausible: 240,
    datum: 'from the finished floor to the centre of the fixture',
  }),
  word(
    'size',
    ['fixture'],
    '<width:length> by <height:length>',
    'Width and height of its face; for a ceiling fixture, along the back wall and out from it.',
    'size 3in by 5in',
    {
      plausible: 120,
      fallback:
        'outlet and switch 3in by 5in, panel 15in by 30in, vent 12in by 6in, sprinkler 3in by 3in, light 8in by 8in, hatch 30in by 22in',
    },
  ),
  word('clear', ['fixture'], '<value:length>', 'What is to be kept free around it and in front of it.', 'clear 2in', {
    fallback: '0in',
    plausible: 60,
  }),
  word(
    'lamp',
    ['fixture'],
    '(surface | recessed | pendant) (incandescent | led | fluorescent) [enclosed] [identified]',
    'What a light is: how it is mounted, its lamp, whether the lamp is completely enclosed, and whether it is identified by its maker for use within storage space.',
    'lamp surface led enclosed',
  ),
  word(
    'run',
    ['fixture'],
    '<value:length>',
    'How far out from its wall a sloped ceiling reaches its full height. Its own height is that at the wall; in between it rises evenly.',
    'run 36in',
    { plausible: 240, datum: 'from the face of the wall, level' },
  ),

  word(
    'width',
    ['zone', 'gap'],
    width,
    'Its width: fixed, a range, what is left (`fill`), or an equal share of what is left.',
    'width fill at least 20in',
    { plausible: 600, datum: 'from the face of one neighbour to the face of the next' },
  ),
  word(
    'depth',
    ['template', 'zone'],
    '<value:length>',
    'Depth of the shelves and panels in it that do not give their own.',
    'depth 12in',
    { plausible: 48 },
  ),
  word(
    'board',
    ['template', 'zone'],
    '<board:ref board>',
    'What the shelves and panels in it are cut from, where they do not say.',
    'board white-12',
  ),
  word(
    'pole',
    ['template', 'zone'],
    '<rod:ref rod>',
    'What the rods in it are cut from, where they do not say.',
    'pole chrome',
  ),
];
