/** Whole statements to begin with, offered where one may begin: filled in with names that are there, to be gone through with Tab. */
import type { Statement } from '../../grammar/tree.ts';
import type { DeclaredKind } from '../model/names.ts';
import { type BlockPlace, wordIn } from '../model/vocabulary.ts';
import type { Offer } from './offer.ts';
import type { Snapshot } from './snapshot.ts';

/** What may be put into a body: names of a kind, or of the template around. */
interface Known {
  /** `<1|reach-in,linen|>`, or `<1:reach-in>` where nothing is known. */
  readonly one: (at: number, kind: DeclaredKind, fallback: string) => string;
  /** The last one of the template around by its word, or what is made up. */
  readonly last: (word: string, fallback: string) => string;
  readonly has: (word: string) => boolean;
}

interface Start {
  readonly label: string;
  readonly detail: string;
  /** It stands where both of these words may. */
  readonly words: readonly [string, string];
  /** Places to fill in are written `<1:what>`, `<1|these,those|>`, and `<0>` where the cursor ends. */
  readonly body: (known: Known) => readonly string[];
}

/** So many names are offered to choose from; of more, somebody types his own. */
const mostNames = 20;

const after = ({ has, last }: Known): string => (has('zone') ? ` after <3:${last('zone', '')}>` : '');

const starts: readonly Start[] = [
  {
    label: 'new-template',
    detail: 'A closet to be built many times: its walls, and a zone to begin with',
    words: ['template', 'unit'],
    body: ({ one }) => [
      '/// <1:What it is for.>',
      'template <2:reach-in> {',
      '\tparameter width: length from <3:92in> to <4:98in>',
      `\tboard ${one(5, 'board', 'white-12')}`,
      `\tpole ${one(6, 'rod', 'chrome')}`,
      '',
      '\twall left { length <7:25in>; height <8:96in> }',
      '\twall back { length width; height <8:96in> }',
      '\twall right { length <7:25in>; height <8:96in> }',
      '',
      '\tzone <9:main> on back {',
      '\t\twidth fill',
      '\t\tshelf <10:top> { at <11:84in> }',
      '\t\t<0>',
      '\t}',
      '}',
    ],
  },
  {
    label: 'new-unit',
    detail: 'One closet in one flat',
    words: ['unit', 'template'],
    body: ({ one }) => [
      `unit <1:A-101-bedroom> ${one(2, 'template', 'reach-in')}<3| , mirrored |>{ floor <4:1>; flat <5:A-101>; width <6:93-3/4in> }`,
      '<0>',
    ],
  },
  {
    label: 'new-survey',
    detail: 'What was measured of one unit on site, at three heights',
    words: ['survey', 'unit'],
    body: ({ one }) => [
      `survey ${one(1, 'unit', 'A-101-bedroom')} {`,
      '\ttaken "<2:date, tape>"',
      '\twall back {',
      '\t\tlength <3:93-7/8in> at <4:6in>',
      '\t\tlength <5:93-3/4in> at <6:42in>',
      '\t\tlength <7:93-1/2in> at <8:84in>',
      '\t\tstuds <9:14-1/2in, 30-1/2in, 46-1/2in, 62-1/2in, 78-1/2in>',
      '\t}',
      '}',
      '<0>',
    ],
  },
  {
    label: 'new-zone',
    detail: 'A stretch of a wall with a shelf in it',
    words: ['zone', 'wall'],
    body: (known) => [
      `zone <1:coats> on <2:${known.last('wall', 'back')}>${after(known)} {`,
      '\twidth <4|fill,48in,from 20in to 30in|>',
      '\tshelf <5:top> { at <6:84in> }',
      '\t<0>',
      '}',
    ],
  },
  {
    label: 'new-tower',
    detail: 'A zone with panels at both sides, fixed shelves at its top and foot, and loose ones between',
    words: ['zone', 'wall'],
    body: (known) => [
      `zone <1:tower> on <2:${known.last('wall', 'back')}>${after(known)} {`,
      '\twidth <4:24in>',
      '\tpanels <5:sides>',
      '\tshelf <6:top> { at <7:84in>; fixed }',
      '\tshelves <8:loose> between <9:foot> and <6:top> { count <10:5>; pitch from <11:10in> to <12:14in> }',
      '\tshelf <9:foot> { at <13:8in>; fixed }',
      '}',
      '<0>',
    ],
  },
  {
    label: 'new-shelf-row',
    detail: 'Shelves at an equal pitch between two others',
    words: ['shelves', 'shelf'],
    body: () => [
      'shelves <1:loose> between <2:low> and <3:top> { count <4:3>; pitch from <5:10in> to <6:14in> }',
      '<0>',
    ],
  },
  {
    label: 'new-rod',
    detail: 'A rod under a shelf, for a garment',
    words: ['rod', 'shelf'],
    body: ({ one }) => [
      `rod <1:upper> { under <2:top> by <3:3in>; from wall <4:9in>; for ${one(5, 'garment', 'shirt')} }`,
      '<0>',
    ],
  },
];

/** All of their labels, for who wants to tell of them. */
export const snippetLabels: readonly string[] = starts.map(({ label }) => label);

/** Those that may stand in a block of this place, of which `around` are the statements. */
export function snippetsAt({ project }: Snapshot, around: readonly Statement[], place: BlockPlace): Offer[] {
  const known: Known = {
    one: (at, kind, fallback) => {
      const names = [...new Set(project.names.namesOf(kind))];
      if (names.length === 0 || names.length > mostNames) return `<${at}:${names[0] ?? fallback}>`;
      return names.length === 1 ? `<${at}:${names[0]}>` : `<${at}|${names.join(',')}|>`;
    },
    last: (word, fallback) => {
      const name = namedIn(around[0], word).at(-1);
      // The wall that most closets are on is the one that the example is about.
      return word === 'wall' && namedIn(around[0], word).includes(fallback) ? fallback : (name ?? fallback);
    },
    has: (word) => namedIn(around[0], word).length > 0,
  };
  return starts.flatMap(({ label, detail, words, body }): Offer[] => {
    if (!words.every((word) => wordIn(place, word))) return [];
    const snippet = body(known)
      .join('\n')
      .replace(/<(\d+)([:|][^<>]*)?>/g, (_, at: string, more = '') => (more === '' ? `$${at}` : `\${${at}${more}}`));
    return [{ kind: 'snippet', label, text: filledIn(snippet), snippet, detail, rank: 7 }];
  });
}

function namedIn(template: Statement | undefined, word: string): string[] {
  if (template?.word.text !== 'template') return [];
  return (template.block?.children ?? []).flatMap((child) => {
    const [name] = child.items;
    return child.word.text === word && name?.kind === 'path' ? [name.words.map((w) => w.text).join('.')] : [];
  });
}

/** The text that is left when every place is passed over: defaults, first choices, and no final place. */
export function filledIn(snippet: string): string {
  const defaults = new Map<string, string>();
  const keep = (at: string, text: string): string => {
    defaults.set(at, text);
    return text;
  };
  return snippet
    .replace(/\$\{(\d+)\|([^|]*)\|\}/g, (_, at: string, choices: string) => keep(at, choices.split(',')[0] ?? ''))
    .replace(/\$\{(\d+):([^}]*)\}/g, (_, at: string, text: string) => keep(at, text))
    .replace(/\$(?:\{(\d+)\}|(\d+))/g, (_, a?: string, b?: string) => defaults.get(a ?? b ?? '') ?? '')
    .replaceAll('\t', '  ');
}
