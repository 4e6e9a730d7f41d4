import { word } from './entry.ts';

/** Declarations at the top level, and what a project says. */
export const fileWords = [
  word(
    'project',
    ['file'],
    '(<title:text> | <name:name>)',
    'The project this folder is: every .closet file in it and under it belongs to it. One a folder.',
    'project "Quarry Lane" { show inches; kerf 1/8in }',
    {
      block: 'project',
      fallback:
        'a file outside any project is a project of its own, in inches, with a kerf of 1/8in and a saw step of 1/16in',
    },
  ),
  word(
    'use',
    ['file'],
    '<path:text> as <name:name>',
    'Makes the templates, materials and policies of a file or folder outside the project known under a name: `trade.white-12`. The path is relative to this file and stays inside the workspace folder, or names an installed package.',
    'use "../shared" as trade',
    { repeats: true },
  ),
  word(
    'accept',
    ['file'],
    '<rule:ref rule> at <place:ref thing> because <why:text>',
    'Agrees to a finding, by its rule and the thing it is about, with the reason. One that no longer matches anything is reported.',
    'accept rod-near-wall at A-101.shirts.upper because "shallow wall, agreed with the owner"',
    { repeats: true },
  ),
  word(
    'language',
    ['project'],
    '<edition:count>',
    'The edition of the language the project is written in.',
    'language 1',
    { fallback: '1' },
  ),
  word(
    'show',
    ['project'],
    '(inches | millimetres) [to <step:length>]',
    'How computed lengths are shown. What you wrote is echoed as you wrote it.',
    'show inches to 1/16in',
    { fallback: 'inches, to 1/64in' },
  ),
  word(
    'currency',
    ['project'],
    '<code:name>',
    'The currency of every price, by its three-letter code (ISO 4217).',
    'currency EUR',
    { fallback: 'none; prices cannot be added up' },
  ),
  word('kerf', ['project'], '<value:length>', 'What the saw turns to dust at each cut.', 'kerf 1/8in', {
    fallback: '1/8in',
    plausible: 1,
  }),
  word(
    'saw-step',
    ['project'],
    '<value:length>',
    'Finished lengths are rounded down to a multiple of this.',
    'saw-step 1/16in',
    { fallback: '1/16in', plausible: 2 },
  ),
  word(
    'end-trim',
    ['project'],
    '<value:length>',
    'What each end of a stock board loses before the first part is cut, its own cut included.',
    'end-trim 1/4in',
    { fallback: '0in: the factory end is used', plausible: 12 },
  ),
  word(
    'keep-offcuts',
    ['project'],
    'from <value:length>',
    'An offcut of this length or more is worth keeping.',
    'keep-offcuts from 24in',
    { fallback: '24in', plausible: 240 },
  ),
  word(
    'policy',
    ['project', 'unit'],
    '<policies:ref policy>...',
    'The policies in force, later ones over earlier ones. On a unit, they are laid over those of the project.',
    'policy everyday',
    { repeats: true, fallback: 'the limits the tool ships with' },
  ),
];
