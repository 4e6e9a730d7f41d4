/**
 * Where the numbers of accessibility come from. `seen` is false for what is recalled from memory: it
 * is shown as such and asks for nothing by itself. A text read only where somebody quotes it names
 * the place where it was read. The inch is the master everywhere: some stored descriptions of
 * figures print wrong millimetres beside right inches.
 */
import type { RuleSource } from '../../model/rule.ts';

export function published(document: string, section: string, edition: string, seen = true): RuleSource {
  return { kind: 'published', document, section, edition, seen };
}

const standards = 'ADA Standards for Accessible Design';

export function ada(section: string): RuleSource {
  return published(standards, section, '2010');
}

/** Read where somebody quotes it, not in the standards themselves. */
export function adaQuoted(section: string, where: string): RuleSource {
  return published(`${standards}, as quoted at ${where}`, section, '2010');
}

export function adaag(section: string, seen = true): RuleSource {
  return published('ADA Accessibility Guidelines', section, '1991, replaced in 2010', seen);
}

export function ufas(section: string): RuleSource {
  return published('Uniform Federal Accessibility Standards', section, '1984');
}

export const walkInText: RuleSource = published(
  'ICC A117.1, as quoted at thebuildingcodeforum.com',
  '1002.3.2 exception',
  '2003',
);

export const typeBText: RuleSource = published(
  "Fair Housing design requirements, in an architect's note at evstudio.com",
  'closets of Type B units',
  'edition not stated, note undated',
);

export const portionText: RuleSource = published(
  "Accessibility practice, in an inspector's note at steppingthruaccessibility.com",
  'closets: only a portion has to be within reach',
  'undated',
);

export const passageText: RuleSource = published(
  'ADA and ABA Accessibility Guidelines, preamble',
  '404.2: doors that nobody passes through',
  '2004',
);
