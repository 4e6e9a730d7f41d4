/** Fixings that would go into a fixture of the wall. */
import type { Finding } from '../../model/finding.ts';
import type { FixtureLayout } from '../../model/layout.ts';
import { showLength } from '../../model/show.ts';
import { type CheckInput, looked } from '../check.ts';
import { fixtureName } from '../fixture-name.ts';
import { about, capital, nameOf, wallName } from '../say.ts';
import type { Fixing } from './fixing.ts';
import { counted, groups, speaks } from './looked.ts';
import { fixingAtFixture } from './rules.ts';

export function checkObstacles(input: CheckInput): Finding[] {
  const { layout, show } = input;
  // A baseboard is screwed through like the wall behind it.
  const fixtures = layout.fixtures.filter(({ kind, wall }) => wall !== undefined && kind !== 'baseboard');
  if (fixtures.length === 0) return [];
  const found: Finding[] = [];
  for (const { fitting, hardware, fixings } of groups(input)) {
    const inWall = fixings.filter(({ hold }) => hold.kind !== 'part');
    for (const fixture of fixtures) {
      const own = inWall.filter(({ wall }) => wall === fixture.wall);
      if (own.length === 0) continue;
      const hit = own.filter((fixing) => isWithin(fixing, fixture));
      const comparison = counted(`"${hardware.name}" at ${fixtureName(fixture)}`, hit.length, 'at most', 0);
      const [first] = hit;
      if (looked(input, fixingAtFixture, fitting, comparison, hit.length === 0) || !first || !speaks(fitting)) continue;
      found.push(
        about(
          fixingAtFixture,
          fitting,
          fitting.place,
          `"${hardware.name}" of ${nameOf(fitting)} would be screwed to ${wallName(first.wall ?? fitting.wall)} at ${showLength(first.at, show)}, ${showLength(first.height, show)} high, where ${fixtureName(fixture)} is${fixture.clear > 0 ? `, or within the ${showLength(fixture.clear, show)} kept free around it` : ''}.`,
          {
            advice: 'Move the part or the fixture. Find wires and pipes before a hole is made.',
            related: [{ place: fixture.place, message: `${capital(fixtureName(fixture))} is here.` }],
            comparison,
          },
        ),
      );
    }
  }
  return found;
}

function isWithin({ at, height }: Fixing, { box, clear }: FixtureLayout): boolean {
  return at > box.x[0] - clear && at < box.x[1] + clear && height > box.z[0] - clear && height < box.z[1] + clear;
}
