import { word } from './entry.ts';

const materials = ['board', 'rod'] as const;

/** Boards, rods, hardware, stock, garments and policies. */
export const materialWords = [
  word('board', ['file'], '<name:name>', 'A board that shelves and panels are cut from.', 'board white-12 { depth 12in; thickness 3/4in }', { block: 'board', needsBlock: true, repeats: true }),
  word('rod', ['file'], '<name:name>', 'A rod that hanging rods are cut from.', 'rod chrome { diameter 1-1/16in }', { block: 'rod', needsBlock: true, repeats: true }),
  word('hardware', ['file'], '<name:name>', 'Something bought that holds a part: what it takes off the part, and what it needs.', 'hardware end-cup { takes 3/8in for "the cup" }', { block: 'hardware', needsBlock: true, repeats: true }),
  word('stock', ['file'], '<material:ref board-or-rod>', 'The lengths of a board or rod that can be had, and the offcuts on the rack.', 'stock white-12 { length 6ft price 14.50 EUR count 40 }', { block: 'stock', needsBlock: true, repeats: true }),
  word('garment', ['file'], '<name:name>', 'Something that hangs: how long, wide and deep it is on its hanger.', 'garment shirt { hang 38in; hanger 17in; takes 1-1/2in }', { block: 'garment', needsBlock: true, repeats: true }),
  word('policy', ['file'], '<name:name> [extends <base:ref policy>]', 'Limits in force and how severe it is to break them.', 'policy everyday { limit rod-height at most 84in }', { block: 'policy', needsBlock: true, repeats: true }),

  word('depth', ['board'], '<value:length>', 'Front to back, as bought.', 'depth 12in', { plausible: 48 }),
  word('thickness', ['board'], '<value:length>', 'Underside to upper face.', 'thickness 3/4in', { plausible: 4 }),
  word('diameter', ['rod'], '<value:length>', 'Outside diameter.', 'diameter 1-1/16in', { plausible: 4 }),
  word('ends', materials, '[against (wall | panel | open)] (take <value:length> [for <why:text>] | with <hardware:ref hardware>)', 'What is taken off the clear opening at each end of a part, and why. `against` says it for ends that meet a wall, a panel, or nothing.', 'ends take 1/16in for "room to slide in"', { repeats: true, fallback: 'nothing is taken off', plausible: 6 }),
  word('stiffness', materials, '<value:stiffness>', 'Modulus of elasticity of the material, lengthwise.', 'stiffness 330 ksi'),
  word('weight', ['board'], '<value:area-mass>', 'Mass of a square foot or square metre of the board.', 'weight 2.5 lb/ft2'),
  word('weight', ['rod'], '<value:line-mass>', 'Mass of a foot or metre of the rod.', 'weight 0.5 lb/ft'),
  word('finish', materials, '<value:text>', 'Colour or surface, in words.', 'finish "white"'),
  word('ripping', ['board'], '(allowed | forbidden)', 'Whether a narrower depth may be ripped from it, one strip from one board.', 'ripping allowed', { fallback: 'forbidden' }),

  word('takes', ['hardware'], '<value:length> [for <why:text>]', 'What it takes off the part it holds, at each end.', 'takes 3/8in for "the cup"', { plausible: 6 }),
  word('screws', ['hardware'], '<size:text> [count <count:count>]', 'Screws that one of it takes, by size. One kind a line.', 'screws "#8 x 1-1/2 in" count 2', { repeats: true, notYet: true }),
  word('pack', ['hardware'], '<count:count> [price <price:money>]', 'How many are in the pack it is sold in, and what the pack costs.', 'pack 20 price 9.80 EUR', { notYet: true }),
  word('rated', ['hardware'], '<value:mass>', 'The load its maker rates one of it for.', 'rated 50 lb', { notYet: true }),

  word('length', ['stock'], '<value:length> [price <price:money>] [(count <count:count> | unlimited)]', 'A length that can be bought. Without a count there is no limit.', 'length 6ft price 14.50 EUR count 40', { repeats: true, plausible: 480 }),
  word('offcut', ['stock'], '<value:length> [count <count:count>]', 'An offcut on the rack; it costs nothing and is used first.', 'offcut 50in count 2', { repeats: true, plausible: 480 }),
  word('lead', ['stock'], '<value:time>', 'How long it takes to come.', 'lead 10 days'),

  word('hang', ['garment'], '<value:length>', 'From the centre of the rod to its lowest point, on its hanger.', 'hang 38in', { plausible: 90 }),
  word('hanger', ['garment'], '<value:length>', 'Width of its hanger, shoulder to shoulder: half of it stands on each side of the rod.', 'hanger 17in', { plausible: 30 }),
  word('depth', ['garment'], '<value:length>', 'Width of the garment on its hanger where it is more than the hanger.', 'depth 20in', { plausible: 40, fallback: 'the width of the hanger' }),
  word('takes', ['garment'], '<value:length>', 'Length of rod that one of it takes.', 'takes 1-1/2in', { plausible: 12 }),
  word('source', ['garment'], '<value:text>', 'What the values rest on.', 'source "common practice, no source"'),

  word('limit', ['policy'], '<limit:ref limit> (at least <least:length> [at most <most2:length>] | at most <most:length> | from <from:length> to <to:length>)', 'A limit, by its name.', 'limit rod-height at most 48in', { repeats: true, plausible: 240 }),
  word('treat', ['policy'], '<rule:ref rule> as (error | warning | note | off)', 'How severe it is to break a rule.', 'treat rod-near-wall as note', { repeats: true }),
  word('reach', ['policy'], '(forward | side) <value:length>', 'How far a person reaches.', 'reach side 48in', { repeats: true, notYet: true }),
  word('deflection', ['policy'], '<value:count>', 'The part of its span that a shelf may sag: 144 for a 144th.', 'deflection 144', { notYet: true }),
];
