/**
 * How much the tool takes on. What strangers wrote is computed within these bounds, so that no file hangs it, fills its
 * memory or takes down what is beside it. One table: whoever has a limit reads it from here, the reference of the
 * language shows it, and a test reaches each. How many names a sentence lists and how long a plan is improved are no
 * limits: nothing is refused there.
 */
import { type Bound, readingLimits } from '../../grammar/limits.ts';

const MB = 1024 * 1024;

const quantities = {
  longestLength: {
    most: 1_000_000,
    counts: 'millimetres of a length, a kilometre',
    why: 'Anything longer is a slip of the unit of measure; and a hundred thousand such lengths still add up exactly.',
    told: { rule: 'number-out-of-bounds' },
  },
  largestAmount: {
    most: 1e15,
    counts: 'for the amount of anything else, as it is kept (counts, hundredths of money, newtons, pascals)',
    why: 'Whole numbers are exact up to nine times as much, and nothing that is computed becomes infinite.',
    told: { rule: 'number-out-of-bounds' },
  },
} as const satisfies Table;

const projects = {
  mostUnits: {
    most: 100_000,
    counts: 'units of a project, counts multiplied out',
    why: 'The largest buildings have some thousands. Beyond that it is several buildings, or a slip.',
    told: { rule: 'too-many' },
  },
  mostLoose: {
    most: 100_000,
    counts: 'loose parts of one kind',
    why: 'As many as units.',
    told: { rule: 'too-many' },
  },
  longestChain: {
    most: 20,
    counts: 'templates, or policies, that are built on one another',
    why: 'Nobody can follow more. Each of a chain is read with all those under it.',
    told: { rule: 'too-many' },
  },
  mostLibraries: {
    most: 200,
    counts: 'libraries that are opened for one `use`',
    why: 'Libraries that each use two others double with each step.',
    told: { rule: 'too-many' },
  },
  deepestUse: {
    most: 10,
    counts: 'libraries that use one another',
    why: 'A project, the rules of a firm, those of a supplier: three. Each is read with all that it uses.',
    told: { rule: 'too-many' },
  },
  mostParameters: {
    most: 200,
    counts: 'parameters of a template',
    why: 'Whoever writes a unit has to know them. A template is tried at both ends of each.',
    told: { rule: 'too-many' },
  },
  mostWalls: {
    most: 40,
    counts: 'walls of a template',
    why: 'A closet has four, an odd room a dozen. Each is looked at with each other one.',
    told: { rule: 'too-many' },
  },
  mostOnWalls: {
    most: 200,
    counts: 'openings or fixtures of a template, each',
    why: 'Each is looked at with all that stands near it.',
    told: { rule: 'too-many' },
  },
  mostZones: {
    most: 1000,
    counts: 'zones and gaps of a template, or of a zone',
    why: 'A thousand zones of a foot are a wall of three hundred metres.',
    told: { rule: 'too-many' },
  },
  mostFittings: {
    most: 500,
    counts: 'fittings in a zone',
    why: 'Shelves half an inch apart from the floor to the ceiling are two hundred.',
    told: { rule: 'too-many' },
  },
  mostTests: {
    most: 500,
    counts: 'tests of a template',
    why: 'Each computes a layout of its own with every change.',
    told: { rule: 'too-many' },
  },
  mostInRow: {
    most: 200,
    counts: 'shelves in a row, by count or by pitch',
    why: 'Nobody builds more in one zone.',
    told: { rule: 'too-many' },
  },
  mostParts: {
    most: 10_000,
    counts: 'parts of a unit',
    why: 'A large closet has a hundred. Rows in zones in zones multiply.',
    told: { rule: 'too-many' },
  },
  mostDrawers: {
    most: 50,
    counts: 'drawers in one stack',
    why: 'They would be an inch and a half high each.',
    told: { rule: 'too-many' },
  },
  mostGarments: {
    most: 10_000,
    counts: 'garments of one kind on one rod',
    why: 'A slip of the finger where there are more.',
    told: { rule: 'too-many' },
  },
  mostPersons: {
    most: 1000,
    counts: 'persons that a closet is for',
    why: 'A slip of the finger where there are more.',
    told: { rule: 'too-many' },
  },
  mostStuds: {
    most: 1000,
    counts: 'studs of a wall',
    why: 'At 16 in they make a wall of four hundred metres; each fixing is looked at with those near it.',
    told: { rule: 'too-many' },
  },
  mostOnPart: {
    most: 1000,
    counts: 'screws, brackets or other pieces of hardware on one part, of one kind',
    why: 'More of one thing than any part takes, however close its hardware wants it.',
    told: { rule: 'too-many' },
  },
  mostStock: {
    most: 1_000_000,
    counts: 'boards of one length in stock, or pieces in a pack',
    why: 'A slip of the finger where there are more.',
    told: { rule: 'too-many' },
  },
  mostPatterns: {
    most: 10_000,
    counts: 'patterns, or settings of the stop, that a plan may be asked to keep to',
    why: 'A plan that has more is asked for nothing.',
    told: { rule: 'too-many' },
  },
  mostFindings: {
    most: 5000,
    counts: 'findings told of one file',
    why: 'Who has mended those looks again. Where there are more, mostly one thing is wrong: another kind of file, or a name that is gone.',
    told: { rule: 'too-many' },
  },
} as const satisfies Table;

const files = {
  largestFile: {
    most: 16 * MB,
    counts: 'bytes of a .closet file',
    why: 'A building of ten thousand units takes about one million.',
    told: { rule: 'file-too-large' },
  },
  mostFiles: {
    most: 20_000,
    counts: '.closet files in a folder and under it',
    why: 'A file a unit of the largest buildings.',
    told: { rule: 'too-many' },
  },
  mostFolders: {
    most: 50_000,
    counts: 'folders looked into for .closet files, of one folder',
    why: 'Whole disks are opened by mistake. Links to folders are not followed, so that none leads round in a circle.',
    told: { rule: 'too-many' },
  },
  deepestFolders: {
    most: 40,
    counts: 'folders inside each other that are looked into',
    why: 'Paths become too long for many systems before.',
    told: { rule: 'too-many' },
  },
} as const satisfies Table;

const tables = {
  largestTable: {
    most: 64 * MB,
    counts: 'bytes of a table from site, of a list of lengths to plan, or of a file of known findings',
    why: 'A survey of ten thousand units takes five million.',
    told: { by: 'the command or the message in the editor, which then takes nothing' },
  },
  largestSheet: {
    most: 256 * MB,
    counts: 'bytes of one part of a workbook, unpacked',
    why: 'A small packed file can hold any number of equal bytes. What its directory says is not exceeded when it is unpacked.',
    told: { by: 'the command or the message in the editor, which then takes nothing' },
  },
  mostRows: {
    most: 250_000,
    counts: 'rows of a table from site',
    why: 'Ten thousand units, with twenty readings each.',
    told: { by: 'the command or the message in the editor, which then takes nothing' },
  },
  mostColumns: {
    most: 500,
    counts: 'columns of a table from site that are looked at',
    why: 'A survey has thirty. What stands further right is mostly something else, left there.',
    told: {
      by: 'the command or the message in the editor, which says how many cells stand further right and where, and takes nothing',
    },
  },
  mostSheets: {
    most: 100,
    counts: 'sheets of a workbook from site',
    why: 'A sheet a floor. Each is unpacked to see whether there is anything in it.',
    told: { by: 'the command or the message in the editor, which then takes nothing' },
  },
  mostCells: {
    most: 5_000_000,
    counts: 'cells of a table from site, those of merged stretches each by itself',
    why: 'A quarter of a million rows with twenty columns.',
    told: { by: 'the command or the message in the editor, which then takes nothing' },
  },
  mostProblems: {
    most: 1000,
    counts: 'cells of a table from site that are told one by one',
    why: 'A column taken for another makes one in each row. How many there are in all is told.',
    told: { by: 'the count of all of them' },
  },
} as const satisfies Table;

const plans = {
  largestSum: {
    most: 2 ** 52,
    counts: 'ticks, or hundredths of money, in what a plan adds up',
    why: 'Whole numbers are exact up to twice as much.',
    told: { by: 'the plan, which is refused for that material' },
  },
  mostRuns: {
    most: 1_000_000,
    counts: 'matched sets that are planned one by one',
    why: 'Each is written down by itself.',
    told: { by: 'the plan, which is refused for that material' },
  },
  mostLengths: {
    most: 200_000,
    counts: 'rows of a list of lengths to plan',
    why: 'Equal ones can be written as one row with a quantity.',
    told: { by: 'the terminal command, with status 2' },
  },
} as const satisfies Table;

const terminal = {
  largestRevision: {
    most: 256 * MB,
    counts: 'bytes of .closet files that are read from git for one revision',
    why: 'As a folder of them would hold.',
    told: { by: 'the terminal command, with status 2' },
  },
  largestReport: {
    most: 256 * MB,
    counts: 'bytes of a plan to be verified',
    why: 'A plan of a hundred thousand boards takes fifty million, and no text of 512 MB can be held at once.',
    told: { by: 'the terminal command, with status 2' },
  },
} as const satisfies Table;

const editor = {
  mostWaiting: {
    most: 5000,
    counts: 'questions of an editor that wait for an answer',
    why: 'An editor with a hundred files in view asks ten things of each when something changes. Each that waits takes one or two thousand bytes, or more where it is longer itself.',
    told: {
      by: 'an error at once where what comes cannot be left unread (the channel of Node, a worker of a browser, or while the server waits for an answer of the editor); elsewhere nobody: reading goes on when half are answered',
    },
  },
  mostShown: {
    most: 1000,
    counts: 'findings of a file in an editor',
    why: 'Editors show no more of one file. Errors go first, and the last line says how many are left out.',
    told: { rule: 'too-many' },
  },
  mostOffered: {
    most: 500,
    counts: 'proposals of a completion',
    why: 'Nobody scrolls through more. The list is marked as not complete, and what is typed on narrows it down.',
    told: { by: 'the mark on the list that it is not complete' },
  },
  mostSymbols: {
    most: 200,
    counts: 'symbols of a workspace that are found by a text',
    why: 'The best matches go first; what is typed on narrows them down.',
    told: { by: 'nobody, as the protocol has no word for it: the best matches are shown' },
  },
  mostChildren: {
    most: 200,
    counts: 'rows under one row of the project view',
    why: 'A tree that is longer is not looked through.',
    told: { by: 'rows of 200 each in their place, which say from what to what they go and how many they are' },
  },
  longestDoc: {
    most: 4000,
    counts: 'characters of a documentation comment on hover and beside a proposal',
    why: 'It is one part of a small window; the rest stands in the file.',
    told: { by: 'an ellipsis at its end' },
  },
} as const satisfies Table;

const sheets = {
  mostDrawn: {
    most: 100_000,
    counts: 'points, symbols and texts of one drawing',
    why: 'A wall of some thousand parts with their screws takes half of it, and nobody could read it. Each text looks for room among the others.',
    told: { by: 'the terminal command, with status 2, or the panel of the drawing' },
  },
  largestDrawing: {
    most: 16 * MB,
    counts: 'characters of one drawing as SVG or DXF',
    why: 'A hundred thousand points take ten million. An editor shows the text as it is.',
    told: { by: 'the terminal command, with status 2, or the panel of the drawing' },
  },
  mostPagesOfOne: {
    most: 5000,
    counts: 'pages of the sheets of one unit, or of the boards of a project',
    why: 'A unit of ten thousand parts takes some hundreds, a building of a hundred thousand boards in as many patterns as it has kinds some thousands. They are held until all of them are numbered.',
    told: { by: 'the terminal command, with status 2' },
  },
  mostPages: {
    most: 100_000,
    counts: 'pages of a PDF',
    why: 'Ten thousand units with ten sheets each.',
    told: { by: 'the terminal command, with status 2' },
  },
  largestPdf: {
    most: 2 ** 31 - 1,
    counts: 'bytes of a PDF',
    why: 'Ten thousand units take a quarter of it. Many programs that print count no further (from memory), and the format itself ends at ten digits (ISO 32000-1, 7.5.4; from memory).',
    told: { by: 'the terminal command, with status 2' },
  },
  largestSitePage: {
    most: 256 * MB,
    counts: 'characters of all layouts in the page for the site, before they are packed',
    why: 'A thousand layouts that differ take a hundred million; phones open no more.',
    told: { by: 'the terminal command, with status 2' },
  },
  mostMade: {
    most: 200_000,
    counts: 'files that one run makes',
    why: 'Ten thousand units with twenty drawings each. Each is written beside its place until all are whole.',
    told: { by: 'the terminal command, with status 2' },
  },
} as const satisfies Table;

const outputs = {
  mostSheetRows: {
    most: 1_048_576,
    counts: 'rows of a sheet of a workbook that is written',
    why: 'The format has no more (ECMA-376; the number from memory).',
    told: { by: 'the terminal command, with status 2' },
  },
  mostCellText: {
    most: 32_767,
    counts: 'characters of a cell of a workbook that is written',
    why: 'Spreadsheets read no more (from memory).',
    told: { by: 'an ellipsis at its end' },
  },
  longestComment: {
    most: 60_000,
    counts: 'characters of a comparison as Markdown',
    why: 'It is made to be a comment at a change in a forge, and those end near 65,000 (from memory).',
    told: { by: 'its last line' },
  },
} as const satisfies Table;

type Table = Readonly<Record<string, Bound>>;

export const limits = {
  ...readingLimits,
  ...quantities,
  ...projects,
  ...files,
  ...tables,
  ...plans,
  ...terminal,
  ...editor,
  ...sheets,
  ...outputs,
} as const satisfies Table;

export type LimitName = keyof typeof limits;

/** The same by what they are about, for the reference. */
export const limitGroups: readonly { readonly title: string; readonly limits: Table }[] = [
  { title: 'Reading a file', limits: readingLimits },
  { title: 'Quantities', limits: quantities },
  { title: 'What a project comes to', limits: projects },
  { title: 'Files and folders', limits: files },
  { title: 'Tables from site', limits: tables },
  { title: 'Cutting plans', limits: plans },
  { title: 'Other files that the terminal command reads', limits: terminal },
  { title: 'In an editor', limits: editor },
  { title: 'Drawings and sheets', limits: sheets },
  { title: 'What is written', limits: outputs },
];

/** A limit as messages write it. */
export function limitText(name: LimitName): string {
  return limits[name].most.toLocaleString('en');
}
