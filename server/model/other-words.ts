/** Words that are said of a thing elsewhere, and what is said of it here. */
import type { BlockPlace } from './words/entry.ts';

const finish = { colour: 'finish', color: 'finish', colours: 'finish' };

const instead: Partial<Readonly<Record<BlockPlace, Readonly<Record<string, string>>>>> = {
  project: { units: 'show', unit: 'show', measure: 'show', money: 'currency' },
  board: { width: 'depth', height: 'thickness', thick: 'thickness', deep: 'depth', wide: 'depth', ...finish },
  rod: { thickness: 'tube', width: 'diameter', size: 'diameter', ...finish },
  garment: { length: 'hang', height: 'hang', width: 'hanger' },
  wall: { width: 'length', long: 'length', high: 'height', ceiling: 'height' },
  'survey-wall': { width: 'length', long: 'length', high: 'height', ceiling: 'height' },
  opening: { length: 'width', wide: 'width', high: 'height' },
  fixture: { clearance: 'clear', high: 'height' },
  zone: { length: 'width', wide: 'width' },
  gap: { length: 'width', wide: 'width' },
  shelf: { height: 'at', high: 'at', deep: 'depth', width: 'depth' },
  'hanging-rod': { height: 'at', high: 'at', holding: 'holds' },
  drawers: { deep: 'depth', high: 'height' },
  stock: { size: 'length', board: 'length' },
};

export function otherWord(place: BlockPlace, word: string): string | undefined {
  return instead[place]?.[word];
}

/** The same of words that stand behind the first one. */
const within: Readonly<Record<string, string>> = {
  socket: 'outlet',
  receptacle: 'outlet',
  lamp: 'light',
  inch: 'inches',
  in: 'inches',
  mm: 'millimetres',
  metric: 'millimetres',
  imperial: 'inches',
  inward: 'in',
  inwards: 'in',
  outward: 'out',
  outwards: 'out',
};

export function otherLiteral(word: string, literals: readonly string[]): string | undefined {
  const other = within[word];
  return other !== undefined && literals.includes(other) ? other : undefined;
}
