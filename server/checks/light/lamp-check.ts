/** Lights against the storage space, each by its kind. */
import { examplesIn } from '../../model/examples.ts';
import { type Finding, finding } from '../../model/finding.ts';
import type { FixtureLayout } from '../../model/layout.ts';
import { sourceLine } from '../../model/rule.ts';
import { showLength } from '../../model/show.ts';
import { NONE, subtract, type Ticks } from '../../model/ticks.ts';
import type { CheckInput } from '../check.ts';
import { capital, compared, fromTemplate, relatedLimit, setBy, wallName } from '../say.ts';
import { lightFixes } from './fixes.ts';
import { lampLimits, lightLimit } from './limits.ts';
import { isBanned, type Lamp, lampRule } from './luminaire.ts';
import { allClear, nearestStored, rodsOf, type StorageOf, storageOf } from './nearest-storage.ts';
import { lightBanned, lightNearStorage, lightOfOtherKind } from './rules.ts';

export function lights(input: CheckInput): Finding[] {
  const { layout, show, record } = input;
  const own = layout.fixtures.filter(({ kind }) => kind === 'light');
  if (own.length === 0) return [];
  const storage = storageOf(layout, (amount) => showLength(amount, show));
  return own.flatMap((light) => {
    const { lamp } = light;
    if (lamp) return [...nearStorage(light, lamp, storage, input), ...banned(light, lamp, input)];
    const needs = `the kind of lamp of ${lightName(light)}: \`lamp surface led enclosed\``;
    record?.lacks({ rule: lightNearStorage, about: light.name, place: light.place, needs });
    return [];
  });
}

/** `the light on the ceiling`, `light "closet-light" on the back wall`. */
function lightName({ name, kind, wall }: FixtureLayout): string {
  return `${name === kind ? 'the light' : `light "${name}"`} on ${wall === undefined ? 'the ceiling' : wallName(wall)}`;
}

/** `an enclosed LED light on the surface`. */
function kindOf({ mount, source, enclosed }: Lamp): string {
  const lamp = source === 'led' ? 'LED' : source;
  const where = { surface: 'on the surface', recessed: 'that is recessed', pendant: 'that hangs' }[mount];
  const how = source === 'fluorescent' ? '' : enclosed ? 'enclosed ' : 'open ';
  const noun = `${how}${lamp} light ${where}`;
  return `${/^[aeiouL]/.test(noun) ? 'an' : 'a'} ${noun}`;
}

function nearStorage(light: FixtureLayout, lamp: Lamp, storage: StorageOf, input: CheckInput): Finding[] {
  const { layout, policy, record, show } = input;
  const about = { about: light.name, place: light.place };
  const length = (amount: Ticks) => showLength(amount, show);
  const rule = lampRule(lamp);
  if (rule.kind === 'none') return withoutDistance(light, lamp, input);
  if (light.depth === undefined && lamp.mount === 'surface') {
    const needs = `how far ${lightName(light)} stands out: \`depth ${examplesIn('3in', show.system)}\``;
    record?.lacks({ ...about, rule: lightNearStorage, needs });
  }
  const limit = rule.kind === 'distance' ? lightLimit(policy, lampLimits[rule.row]) : undefined;
  const needed = limit?.least ?? NONE;
  if (!record && allClear(light, needed, storage.stored, layout)) return [];
  const nearest = nearestStored(light, storage.stored, layout);
  for (const wall of storage.unknown) {
    record?.lacks({ ...about, rule: lightNearStorage, needs: `the height of ${wallName(wall)}` });
  }
  if (!nearest) {
    record?.lacks({
      ...about,
      rule: lightNearStorage,
      needs: 'a plan in which the light and the walls have their places',
    });
    return [];
  }
  const { distance, stored } = nearest;
  const comparison = compared(`distance from ${lightName(light)} to ${stored.name}`, distance, 'at least', needed);
  const working = [
    { what: 'kind of light', value: kindOf(lamp) },
    { what: 'nearest', value: stored.name },
    { what: 'distance', value: length(distance), how: 'straight, rounded down to 25 nm' },
    { what: 'asked for', value: length(needed), how: sourceLine(rule.source).replace(/^source: /, '') },
  ];
  const holds = distance >= needed;
  record?.looked({ ...about, rule: lightNearStorage, comparison, holds, working });
  if (holds || !limit) return [];
  const off = length(subtract(needed, distance));
  const where = distance === 0 ? `is inside ${stored.name}` : `is ${length(distance)} from ${stored.name}`;
  return [
    finding(
      lightNearStorage,
      light.place,
      `${capital(lightName(light))} ${where}; ${setBy(limit)} asks for ${length(needed)} for ${kindOf(lamp)}, because what is stored there can catch fire from it.`,
      {
        ...(rodsOf(layout).length > 0 ? {} : { severity: 'note' }),
        about: light.name,
        causes: fromTemplate,
        advice: `Move it ${off} further off, or the storage back, or have another kind of light. A licensed electrician does the wiring, and the local code decides.`,
        related: [
          ...(lamp === light.lamp ? [{ place: light.lamp.place, message: `It is ${kindOf(lamp)}.` }] : []),
          ...relatedLimit(limit, `The distance is set here: at least ${length(needed)}.`),
        ],
        comparison,
        working,
        fixes: lightFixes(light, needed, storage.stored, layout, show),
      },
    ),
  ];
}

function withoutDistance(light: FixtureLayout, lamp: Lamp, { record }: CheckInput): Finding[] {
  const comparison = {
    what: `published distances for ${kindOf(lamp)}`,
    measured: { count: 0 },
    relation: 'at least' as const,
    limit: { count: 1 },
  };
  record?.looked({ rule: lightOfOtherKind, about: light.name, place: light.place, comparison, holds: false });
  return [
    finding(
      lightOfOtherKind,
      light.place,
      `${capital(lightName(light))} is ${kindOf(lamp)}; no distance to storage is published for such a light, so none was compared.`,
      {
        about: light.name,
        causes: fromTemplate,
        advice:
          'Have a light that is completely enclosed, or a fluorescent one, and ask a licensed electrician what the local code lets be in a closet.',
        related: light.lamp ? [{ place: light.lamp.place, message: 'Its kind is written here.' }] : [],
        comparison,
      },
    ),
  ];
}

/** From memory: only where a policy names the rule. */
function banned(light: FixtureLayout, lamp: Lamp, { policy, record }: CheckInput): Finding[] {
  const about = { rule: lightBanned, about: light.name, place: light.place };
  if (!policy.severities.has(lightBanned.id)) {
    record?.lacks({ ...about, needs: 'a policy that names the rule: it is from memory' });
    return [];
  }
  const holds = !isBanned(lamp);
  const comparison = {
    what: `${lightName(light)} is of a barred kind`,
    measured: { count: holds ? 0 : 1 },
    relation: 'at most' as const,
    limit: { count: 0 },
  };
  record?.looked({ ...about, comparison, holds });
  if (holds) return [];
  return [
    finding(
      lightBanned,
      light.place,
      `${capital(lightName(light))} is ${kindOf(lamp)}, of a kind that is said to be barred from clothes closets (from memory).`,
      {
        about: light.name,
        causes: fromTemplate,
        advice: 'Look it up in the local electrical code, or ask a licensed electrician, and have an enclosed light.',
        comparison,
      },
    ),
  ];
}
