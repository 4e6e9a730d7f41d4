/**
 * Tables from site: any CSV or workbook, any mapping file, into any project. What is taken fits, and is no news when it
 * comes again.
 */
import { strToU8, zipSync } from 'fflate';
import { withEdits } from '../../../grammar/format.ts';
import { noMapping, readMapping } from '../../../server/language/survey-import/columns.ts';
import {
  importSurvey,
  mappingName,
  recognisedIn,
  tableIn,
} from '../../../server/language/survey-import/survey-import.ts';
import { outcomeSaid, refusedPage } from '../../../server/language/survey-import/told.ts';
import type { Project } from '../../../server/model/project.ts';
import { filesOf, joined, type Part, partsOf } from '../case.ts';
import { randomOf } from '../hash.ts';
import { anyBit, mutatedParts } from '../mutate.ts';
import { diskOf, loadedFrom, pathIn } from '../projects.ts';
import type { Random } from '../random.ts';
import { holds, type Target } from '../target.ts';
import { fits } from './asking.ts';

const project = `project "Quarry Lane" { show inches }
board white-16 { depth 16in; thickness 3/4in }
template linen {
  parameter width: length = 36in from 30in to 120in
  board white-16
  wall left { length 24in; height 96in }
  wall back { length width; height 96in }
  opening front { width 30in; height 80in; centred; leaves sliding }
  zone main on back { width fill; shelf top { at 72in } }
}
unit A-101 linen { floor 1; flat A-101 }
unit A-102 linen { floor 1 }
unit A-300 linen { count 6 }
survey A-102 { // kept
  wall back { length 35-7/8in at 6in; studs 2in, 18in } // Photos: a.jpg
}
`;
const mapping = `{
  "survey-columns": 1,
  "unit-of-measure": "inches",
  "wall": "back",
  "heights": { "low": "6in", "middle": "42in", "high": "84in" },
  "columns": [
    { "heading": "low", "is": "length", "at": "low" }
  ]
}`;
const tables = [
  'unit,wall,height,length,studs\nA-101,back,6in,35-7/8in,"2in; 18in"\nA-102,back,42in,"35 3/4""",\n',
  'Unit;low;middle;high;ceiling;note\nA-101;35,5;35,25;35;96;a "b"\n',
  'sep=\t\nunit\tlength mm\tcorner left\tphotos\nA-101\t914\t90.5\ta.jpg; b.jpg\n',
  'unit,floor falls,plumb,door width,door height,taken by,unknown\nA-102,1/4in,1/8in,30in,80in,A. Fitter,x\n',
];
const workbook: readonly Part[] = [
  {
    name: 'xl/workbook.xml',
    text: '<workbook xmlns:r="r"><sheets><sheet name="Site" sheetId="1" r:id="rId1"/></sheets></workbook>',
  },
  {
    name: 'xl/_rels/workbook.xml.rels',
    text: '<Relationships><Relationship Id="rId1" Target="worksheets/sheet1.xml"/></Relationships>',
  },
  {
    name: 'xl/sharedStrings.xml',
    text: '<sst><si><t>unit</t></si><si><t>length mm</t></si><si><r><t>A-</t></r><r><t>101</t></r></si></sst>',
  },
  {
    name: 'xl/styles.xml',
    text: '<styleSheet><numFmts><numFmt numFmtId="164" formatCode="0.0&quot; mm&quot;"/></numFmts><cellXfs><xf numFmtId="0"/><xf numFmtId="164"/><xf numFmtId="14"/></cellXfs></styleSheet>',
  },
  {
    name: 'xl/worksheets/sheet1.xml',
    text: '<worksheet><cols><col min="3" max="3" hidden="1"/></cols><sheetData><row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" t="s"><v>1</v></c></row><row r="2" hidden="0"><c r="A2" t="s"><v>2</v></c><c r="B2" s="1"><f>A1+1</f><v>914</v></c></row></sheetData><mergeCells><mergeCell ref="A3:B3"/></mergeCells></worksheet>',
  },
];
const model: Part = { name: '/p/main.closet', text: project };

export const survey: Target = {
  name: 'survey',
  seeds: () => [
    ...tables.map((text) => joined([model, { name: 'table.csv', text }])),
    joined([model, { name: mappingName, text: mapping }, { name: 'table.csv', text: tables[1] as string }]),
    joined([model, ...workbook]),
    joined([model, ...workbook, { name: 'damage', text: '40 1\n200 255' }]),
  ],
  mutate: (text, random, others) =>
    mutatedParts(text, random, others, (part) =>
      part.name.startsWith('/') && random.chance(0.5) ? undefined : mutatedTable(part, random),
    ),
  run(text) {
    const parts = partsOf(text);
    const named = new Map(parts.map((part) => [part.name, part.text]));
    const files = new Map([...filesOf(parts)].map(([name, own]) => [pathIn(name), own]));
    const said = named.get(mappingName);
    const read = said === undefined ? noMapping : readMapping(said, mappingName);
    if ('wrong' in read) {
      holds('a mapping that is wrong says why', read.wrong.length > mappingName.length + 2, () => read.wrong);
      return;
    }
    const random = randomOf(text);
    for (const bytes of [bytesOfTable(named.get('table.csv')), bytesOfWorkbook(parts)]) {
      if (!bytes) continue;
      const table = tableIn(bytes, 'site', random.chance(0.2) ? 'Site' : undefined);
      if ('unreadable' in table) continue;
      if ('asksSheet' in table) continue;
      for (const { project: own } of loadedFrom(diskOf(files)).projects) {
        recognisedIn(table.sheet, own, read);
        const asked = {
          mapping: read,
          ...(random.chance(0.5) && {
            measure: random.pick(['inches', 'feet', 'millimetres', 'centimetres', 'metres'] as const),
          }),
          ...(random.chance(0.3) && { decimalComma: true }),
        };
        const made = importSurvey(table.sheet, { ...asked, project: own });
        if (made.kind === 'refused') {
          refusedPage(made, 'site');
          const told = made.problems.length + made.reasons.length + made.asks.length;
          holds('a table that is refused says why', told > 0, () => JSON.stringify(made));
          continue;
        }
        outcomeSaid(made.changes);
        fits('an import', own, made.edits);
        if (made.mapping !== undefined) {
          const again = readMapping(made.mapping, mappingName);
          holds(
            'a mapping that was written can be read',
            !('wrong' in again),
            () => `${made.mapping}\n${JSON.stringify(again)}`,
          );
        }
        const after = new Map(files);
        for (const [file, edits] of Map.groupBy(made.edits, (edit) => edit.file))
          after.set(
            file,
            withEdits(
              // As it was read: without a byte order mark.
              own.sources.get(file)?.text ?? after.get(file) ?? '',
              [...edits].sort((a, b) => a.start - b.start),
            ),
          );
        if (made.created) after.set(made.created.file, made.created.text);
        for (const { project: then } of loadedFrom(diskOf(after)).projects) {
          if (then.names.namesOf('unit').join() !== own.names.namesOf('unit').join()) continue;
          // Where a text is wrong already, what is put into it may be read another way.
          holds('an import breaks no text', wrongTexts(own) > 0 || wrongTexts(then) === 0, () =>
            [...after.values()].join('\n'),
          );
          // What cannot be read now says nothing of its walls, and may be told of once a length is known.
          if (wrongTexts(own) > 0) continue;
          const second = importSurvey(table.sheet, { ...asked, project: then });
          holds(
            'an import that comes again is no news',
            second.kind === 'imported' && second.edits.length === 0,
            () =>
              `${[...after.values()].join('\n')}\n${JSON.stringify(second.kind === 'imported' ? second.edits : [second.problems, second.reasons])}`,
          );
        }
      }
    }
  },
};

const wrongTexts = (project: Project): number => project.findings().filter(({ rule }) => rule.family === 'text').length;

function bytesOfTable(text: string | undefined): Uint8Array | undefined {
  return text === undefined ? undefined : strToU8(text);
}

/** Parts with a path as a workbook has them, packed; `damage` are lines of an offset and a byte to stand there. */
function bytesOfWorkbook(parts: readonly Part[]): Uint8Array | undefined {
  const own = parts.filter(({ name }) => name.startsWith('xl/'));
  if (own.length === 0) return undefined;
  const bytes = zipSync(Object.fromEntries(own.map(({ name, text }) => [name, strToU8(text)])), {
    level: 0,
    mtime: '2026-01-01',
  });
  const damage = parts.find(({ name }) => name === 'damage')?.text ?? '';
  for (const line of damage.split('\n')) {
    const [at, byte] = line.split(' ').map(Number);
    if (Number.isInteger(at) && Number.isInteger(byte) && bytes.length > 2)
      bytes[2 + ((at as number) % (bytes.length - 2))] = byte as number;
  }
  return bytes;
}

const cells = [
  'A-101',
  'A-102',
  'A-300',
  'back',
  'left',
  'unit',
  'length',
  'length mm',
  'low',
  'high',
  'height',
  '35-7/8in',
  '35 7/8"',
  '93,75',
  '1.234,5',
  '914 mm',
  '=1+1',
  '2in; 18in',
  '',
  '""',
  '"',
  '12 March',
  '0',
  '-3',
  '1e9',
  'Ä-1',
  '90°',
  '88.5',
  "'=x",
  '6\'-2"',
];

function mutatedTable({ name, text }: Part, random: Random): string {
  let made = text;
  for (let n = 1 + random.int(3); n > 0; n--) {
    const at = random.int(made.length + 1);
    switch (random.int(7)) {
      case 0:
        made = made.slice(0, at) + made.slice(at + 1 + random.int(random.pick([2, 30])));
        break;
      case 1: {
        const piece = made.slice(at, at + random.int(60));
        const to = random.int(made.length + 1);
        made = made.slice(0, to) + piece + made.slice(to);
        break;
      }
      case 2:
        made =
          made.slice(0, at) +
          random.pick([',', ';', '\t', '\n', '\r\n', '"', '\0', '\ufeff', '<', '>', '&amp;', '&#x0;', '/>']) +
          made.slice(at);
        break;
      case 3:
        made = made.replace(/\d+/g, (own) =>
          random.chance(0.15) ? String(random.pick([0, 1, 7, 96, 1048577, 4294967296, 10 ** 20])) : own,
        );
        break;
      case 4:
        made = made.slice(0, at) + anyBit(random, [text]) + made.slice(at);
        break;
      default: {
        // A cell, an attribute or a word in place of another one.
        const found = [
          ...made.matchAll(name.endsWith('.xml') || name.endsWith('.rels') ? /"[^"]*"|>[^<]+</g : /[^,;\t\n]+/g),
        ];
        if (found.length === 0) break;
        const { 0: old, index } = random.pick(found);
        const [open, close] =
          old.startsWith('"') && old.endsWith('"') && old.length > 1
            ? ['"', '"']
            : old.startsWith('>')
              ? ['>', '<']
              : ['', ''];
        made = made.slice(0, index) + open + random.pick(cells) + close + made.slice(index + old.length);
      }
    }
  }
  return made;
}
