/** What a thing is made of or made after: the material of a part, the template of a unit, the hardware of a rod. */
import { offsetOf, outwards, type Statement, topOf } from '../../grammar/tree.ts';
import type { Declared, Names } from '../model/names.ts';
import { type Reading, readingAt } from '../model/reading.ts';
import { sourceOf } from './diagnostics.ts';
import { type Located, locate, located, touches } from './locate.ts';
import { type Meaning, meantAt, zonesAround } from './meaning.ts';
import { nameRangeOf } from './name-range.ts';
import type { Reference } from './references.ts';
import type { Snapshot } from './snapshot.ts';
import { lineageFrom, thingAt } from './things.ts';

/** Where what the thing under the cursor is made of is declared: of its name, or of the first word that declares it. */
export function typeDefinitionsAt(snapshot: Snapshot, offset: number): readonly Omit<Reference, 'isDeclaration'>[] {
  const { names } = snapshot.project;
  const at = locate(snapshot, offset);
  const thing = at && thingUnder(names, at);
  if (!thing) return [];
  const found = new Set(typesOf(names, thing).map((meaning) => meaning.statement));
  return [...found].map((statement) => ({
    source: sourceOf({ statement, start: 0, end: 0 }),
    ...nameRangeOf(statement),
  }));
}

function thingUnder(names: Names, at: Located): Statement | undefined {
  return (
    meantAt(names, at)?.meanings[0]?.statement ?? (touches(at.statement.word, at.within) ? at.statement : undefined)
  );
}

const boards: ReadonlySet<string> = new Set(['shelf', 'shelves', 'panels']);

function typesOf(names: Names, statement: Statement): Meaning[] {
  const word = statement.word.text;
  if (statement.parent.kind === 'segment') {
    const reading = readingAt(statement, 'file');
    if (!reading) return [];
    switch (word) {
      case 'unit':
        return slotted(names, reading, 'template');
      case 'template':
      case 'policy':
        return slotted(names, reading, 'base');
      case 'survey': {
        const unit = slotted(names, reading, 'unit')[0]?.statement;
        return unit ? typesOf(names, unit) : [];
      }
      case 'stock':
        return slotted(names, reading, 'material');
      case 'extra':
        return [...said(names, reading, 'board', 'board'), ...said(names, reading, 'rod', 'rod')];
      case 'board':
      case 'rod':
        return [...said(names, reading, 'ends', 'hardware'), ...said(names, reading, 'carried', 'hardware')];
      case 'hardware':
        return said(names, reading, 'anchor', 'hardware');
      default:
        return [];
    }
  }
  if (word === 'parameter') {
    const reading = readingAt(statement, 'template');
    return reading ? slotted(names, reading, 'default') : [];
  }
  if (statement.parent.word.text !== 'zone') return [];
  if (boards.has(word)) return materialOf(names, statement, 'board', 'board');
  return word === 'rod' ? materialOf(names, statement, 'pole', 'rod') : [];
}

/** What a fitting says that it is cut from, or else the zones around it or its template, each with what it extends. */
function materialOf(names: Names, statement: Statement, word: 'board' | 'pole', slot: 'board' | 'rod'): Meaning[] {
  const lineage = lineageFrom(names, topOf(statement));
  for (const reading of saying(names, lineage, statement)) {
    const [material] = said(names, reading, word, slot);
    if (!material) continue;
    const isParameter = material.sort === 'parameter of a template';
    const usual = isParameter ? typesOf(names, material.statement) : [];
    return usual.length > 0 ? usual : [material];
  }
  return [];
}

/** What speaks for a fitting, the nearest first. */
function saying(names: Names, lineage: readonly Declared[], statement: Statement): readonly Reading[] {
  const own = meantAt(names, located(statement, nameRangeOf(statement).end))?.meanings[0];
  const zones = zonesAround(outwards(statement).reverse());
  const fitting = own && thingAt(lineage, [...zones, own.name], 'fitting');
  const around = zones.flatMap((_, i) => thingAt(lineage, zones.slice(0, zones.length - i), 'zone')?.heads ?? []);
  return [...(fitting?.heads ?? []), ...around, ...lineage.map(({ reading }) => reading)];
}

/** What the names in a slot of a property mean. */
function said(names: Names, reading: Reading, word: string, slot: string): Meaning[] {
  return reading.children.filter((c) => c.word === word).flatMap((c) => slotted(names, c, slot));
}

/** What the names in a slot mean. */
function slotted(names: Names, { statement, slots }: Reading, slot: string): Meaning[] {
  const base = offsetOf(statement);
  return (slots[slot] ?? []).flatMap((item) => {
    const last = item.kind === 'path' ? item.words.at(-1) : undefined;
    return last ? (meantAt(names, located(statement, base + last.end))?.meanings.slice(0, 1) ?? []) : [];
  });
}
