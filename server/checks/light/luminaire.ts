/** How far a light stays from what is stored, by its kind. Inches are the master: the code's own millimetres are rounded. */
import type { RuleSource } from '../../model/rule.ts';
import { inches, type Ticks } from '../../model/ticks.ts';
import { published } from '../access/sources.ts';

export interface Lamp {
  readonly mount: 'surface' | 'recessed' | 'pendant';
  readonly source: 'incandescent' | 'led' | 'fluorescent';
  /** The lamp is enclosed all round. */
  readonly enclosed: boolean;
  /** The maker says that it may be used inside a storage space. */
  readonly identified: boolean;
}

const code = (section: string): RuleSource =>
  published('National Electrical Code, as quoted at electricallicenserenewal.com', section, '2017');

export const lampRows = {
  surfaceEnclosed: {
    least: inches(12),
    source: code('410.16(C)(1), enclosed incandescent or LED lights on the surface'),
  },
  surfaceFluorescent: { least: inches(6), source: code('410.16(C)(2), fluorescent lights on the surface') },
  recessedEnclosed: { least: inches(6), source: code('410.16(C)(3), enclosed incandescent or LED lights, recessed') },
  recessedFluorescent: { least: inches(6), source: code('410.16(C)(4), fluorescent lights, recessed') },
} as const;

export const identifiedSource = code('410.16(C)(5), lights identified for use in the storage space');

/** From memory: it asks for nothing unless a policy does. */
export const bannedSource: RuleSource = published(
  'National Electrical Code',
  '410.16(B), kinds of light that may not be in clothes closets',
  '2017',
  false,
);

/** The rows of the article give no distance for anything else. */
export const listedSource = code('410.16(C), the kinds of light that it gives a distance for');

export type LampRule =
  | {
      readonly kind: 'distance';
      readonly row: keyof typeof lampRows;
      readonly least: Ticks;
      readonly source: RuleSource;
    }
  | { readonly kind: 'inside'; readonly source: RuleSource }
  /** No row is about it. */
  | { readonly kind: 'none'; readonly source: RuleSource };

export function lampRule({ mount, source, enclosed, identified }: Lamp): LampRule {
  if (mount === 'pendant') return { kind: 'none', source: listedSource };
  if (mount === 'surface' && identified && source !== 'incandescent')
    return { kind: 'inside', source: identifiedSource };
  if (source === 'fluorescent') return distance(mount === 'surface' ? 'surfaceFluorescent' : 'recessedFluorescent');
  if (!enclosed) return { kind: 'none', source: listedSource };
  return distance(mount === 'surface' ? 'surfaceEnclosed' : 'recessedEnclosed');
}

function distance(row: keyof typeof lampRows): LampRule {
  return { kind: 'distance', row, ...lampRows[row] };
}

/** Pendants, and incandescent lamps that are open or enclosed in part. */
export function isBanned({ mount, source, enclosed }: Lamp): boolean {
  return mount === 'pendant' || (source === 'incandescent' && !enclosed);
}
