/** Sets the example of a word into the place the word belongs to, so that it can be compiled. */
import { Source } from '../../grammar/source.ts';
import type { Statement } from '../../grammar/tree.ts';
import { topWords } from '../../server/model/vocabulary.ts';
import type { BlockPlace, WordEntry } from '../../server/model/words/entry.ts';

/** Everything the examples name. Invented. */
const common = [
  'project "Quarry Lane" { currency EUR }',
  'policy everyday { limit rod-height at most 84in }',
  'board white-12 { depth 12in; thickness 3/4in }',
  'rod chrome { diameter 1-1/16in }',
  'hardware rear-clip { is support }',
  'hardware end-cup { takes 3/8in for "the cup" }',
  `template linen {
  board white-12
  pole chrome
  wall left { length 24in }
  wall back { length 36in; height 96in }
  opening front { width 30in; height 80in }
  zone main on back { width fill; shelf low { at 30in } }
}`,
  'unit A-101 linen { floor 1 }',
];

/** What an example is about, where that is not among them. */
const moreFor: Readonly<Record<string, readonly string[]>> = {
  accept: [
    `template shallow {
  wall back { length 48in; height 96in }
  zone shirts on back { width fill; rod upper { at 81in; from wall 6in; for shirt; pole chrome } }
}`,
    'unit A-101 shallow { floor 1 }',
  ],
};

interface Surroundings {
  readonly before: string;
  /** What makes the surroundings whole, where the example does not say it. */
  readonly beside: readonly string[];
  readonly after: string;
}

function around(before: string, beside: readonly string[], after = ''): Surroundings {
  return { before, beside, after };
}

const walls = ['board white-12', 'pole chrome', 'wall back { length 94in; height 96in }', 'wall left { length 24in }'];
const zone = ['width fill', 'shelf low { at 30in }', 'shelf high { at 88in }'];
const inTemplate = `template t {\n  ${walls.join('; ')}\n  `;
const inZone = `${inTemplate}zone z on back {\n    ${zone.join('; ')}\n    `;

const surroundings: Readonly<Record<Exclude<BlockPlace, 'file' | 'override' | 'anything'>, Surroundings>> = {
  project: around('project x { ', []),
  board: around('board b { ', ['depth 12in', 'thickness 3/4in']),
  rod: around('rod r { ', ['diameter 1-1/16in']),
  hardware: around('hardware h { ', ['takes 3/8in']),
  stock: around('stock white-12 { ', ['length 6ft price 14.50 EUR']),
  garment: around('garment g { ', ['hang 38in', 'hanger 17in', 'takes 2in']),
  policy: around('policy p { ', []),
  template: around('template t { ', walls),
  'template-test': around(
    'template t { board white-12; wall back { length 48in }; zone main on back { width fill; shelf s { at 50in } }; test "it" { ',
    [],
    ' }',
  ),
  unit: around('unit A-102 linen { ', ['floor 1']),
  survey: around('survey A-101 { ', []),
  'survey-wall': around('survey A-101 { wall back { ', ['length 35-7/8in'], ' }'),
  'survey-opening': around('survey A-101 { opening front { ', ['width 30in'], ' }'),
  extra: around('extra e { ', ['board white-12', 'length 24in', 'count 2']),
  wall: around('template t { wall back { ', ['length 94in', 'height 96in'], ' }'),
  corner: around(`${inTemplate}corner back left { `, [], ' }'),
  opening: around(`${inTemplate}opening front { `, ['width 60in', 'height 80in'], ' }'),
  fixture: around(`${inTemplate}fixture outlet on back { `, ['from left 10in', 'height 16in'], ' }'),
  zone: around(`${inTemplate}zone z on back { `, zone, ' }'),
  gap: around(`${inTemplate}gap trim on back { `, ['width 1in'], ' }'),
  shelf: around(`${inZone}shelf s { `, ['at 50in', 'depth 12in', 'board white-12'], ' }\n}'),
  'hanging-rod': around(`${inZone}rod r { `, ['at 81in', 'pole chrome'], ' }\n}'),
  panels: around(`${inZone}panels { `, ['height 60in', 'depth 12in', 'board white-12'], ' }\n}'),
  drawers: around(`${inZone}drawers d { `, ['at 4in', 'height 3in', 'depth 12in'], ' }\n}'),
  shelves: around(`${inZone}shelves row between low and high { `, ['count 2', 'board white-12'], ' }\n}'),
};

/** The example alone, in the blocks it belongs in. */
export function setInPlace(entry: WordEntry, place: BlockPlace): string {
  if (place === 'file') return entry.example;
  if (place === 'override' || place === 'anything') throw new Error(`no word belongs in ${place}`);
  const { before, beside, after } = surroundings[place];
  const rest = beside.filter((statement) => !saysTheSame(statement, entry));
  return `${before}${[entry.example, ...rest].join('; ')} }${after}`;
}

/** Only one of them can hold: the same property, a thing of the same name, or another way to say it. */
function saysTheSame(statement: string, { word, example }: WordEntry): boolean {
  const named = statement.includes('{');
  const begins = (text: string): string =>
    text
      .split(' ')
      .slice(0, named ? 2 : 1)
      .join(' ');
  return begins(statement) === begins(example) || begins(statement) === otherWay[word];
}

const otherWay: Readonly<Record<string, string>> = { under: 'at', above: 'at', rod: 'board' };

/** The same, with everything that examples name, as one file; what the example declares itself is left out. */
export function setInProject(entry: WordEntry, place: BlockPlace): string {
  const text = setInPlace(entry, place);
  const own = [...(moreFor[entry.word] ?? []), text];
  const declared = new Set(own.map(declaredIn));
  return [...common.filter((s) => !declared.has(declaredIn(s))), ...own].join('\n');
}

function declaredIn(text: string): string {
  const [statement] = statementsOf(text);
  if (!statement) throw new Error(`no statement in ${text}`);
  // A folder has one project, whatever its name.
  return statement.word.text === 'project' ? 'project' : statement.text.split(/\s+/).slice(0, 2).join(' ');
}

export function statementsOf(text: string): Statement[] {
  return [...new Source('example', text, topWords).statements()];
}
