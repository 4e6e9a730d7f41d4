/** Limits of lights, wiring, sprinkler heads and hatches that a policy can set. */
import type { Limit, PolicyInForce } from '../../model/materials.ts';
import { inForce, type OwnLimit } from '../access/limits.ts';
import { serviceSpace } from './appliances.ts';
import { hatchSize } from './hatch.ts';
import { belowHead } from './heads.ts';
import { lampRows } from './luminaire.ts';
import { workingSpace } from './working-space.ts';

export const lightLimits = [
  {
    name: 'clear-of-surface-light',
    doc: 'From an enclosed incandescent or LED light on the surface of a wall or ceiling to the storage space of a closet.',
    least: lampRows.surfaceEnclosed.least,
    most: undefined,
    source: lampRows.surfaceEnclosed.source,
  },
  {
    name: 'clear-of-surface-fluorescent',
    doc: 'From a fluorescent light on the surface of a wall or ceiling to the storage space of a closet.',
    least: lampRows.surfaceFluorescent.least,
    most: undefined,
    source: lampRows.surfaceFluorescent.source,
  },
  {
    name: 'clear-of-recessed-light',
    doc: 'From an enclosed incandescent or LED light that is recessed to the storage space of a closet.',
    least: lampRows.recessedEnclosed.least,
    most: undefined,
    source: lampRows.recessedEnclosed.source,
  },
  {
    name: 'clear-of-recessed-fluorescent',
    doc: 'From a fluorescent light that is recessed to the storage space of a closet.',
    least: lampRows.recessedFluorescent.least,
    most: undefined,
    source: lampRows.recessedFluorescent.source,
  },
  {
    name: 'clear-below-sprinkler',
    doc: 'From the deflector of a sprinkler head down to the top of what is straight below it.',
    least: belowHead.least,
    most: undefined,
    source: belowHead.source,
  },
  {
    name: 'before-electrical-panel',
    doc: 'From the face of an electrical panel out to what stands before it.',
    least: workingSpace.deep,
    most: undefined,
    source: workingSpace.source,
  },
  {
    name: 'beside-electrical-panel',
    doc: 'Width that is free before an electrical panel; it need not be centred on it.',
    least: workingSpace.wide,
    most: undefined,
    source: workingSpace.source,
  },
  {
    name: 'before-appliance',
    doc: 'From the face of a heater or another appliance out to what stands before it.',
    least: serviceSpace.side,
    most: undefined,
    source: serviceSpace.source,
  },
  {
    name: 'beside-appliance',
    doc: 'Width that is free before a heater or another appliance; it need not be centred on it.',
    least: serviceSpace.side,
    most: undefined,
    source: serviceSpace.source,
  },
  {
    name: 'hatch-short-side',
    doc: 'The shorter side of the opening of an attic hatch, and of what is free below it.',
    least: hatchSize.short,
    most: undefined,
    source: hatchSize.source,
  },
  {
    name: 'hatch-long-side',
    doc: 'The longer side of the opening of an attic hatch, and of what is free below it.',
    least: hatchSize.long,
    most: undefined,
    source: hatchSize.source,
  },
] as const satisfies readonly OwnLimit[];

export type LightLimitName = (typeof lightLimits)[number]['name'];

export function lightLimit(policy: PolicyInForce, name: LightLimitName): Limit {
  const own = lightLimits.find((limit) => limit.name === name);
  return own ? inForce(policy, own) : { least: undefined, most: undefined, place: undefined, policy: undefined };
}

/** The limit that goes with a kind of light. */
export const lampLimits: Readonly<Record<keyof typeof lampRows, LightLimitName>> = {
  surfaceEnclosed: 'clear-of-surface-light',
  surfaceFluorescent: 'clear-of-surface-fluorescent',
  recessedEnclosed: 'clear-of-recessed-light',
  recessedFluorescent: 'clear-of-recessed-fluorescent',
};
