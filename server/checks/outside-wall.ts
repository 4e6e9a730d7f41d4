/** Openings and fixtures that lie outside the wall they are said to be in. */
import type { Comparison, Finding } from '../model/finding.ts';
import { finding } from '../model/finding.ts';
import type { Layout, WallLayout } from '../model/layout.ts';
import type { Rule } from '../model/rule.ts';
import { showLength } from '../model/show.ts';
import { add, NONE, subtract, type Ticks } from '../model/ticks.ts';
import { type Check, type CheckInput, looked, passesUnheard } from './check.ts';
import { fixtureName } from './fixture-name.ts';
import { capital, compared, fromTemplate, wallName } from './say.ts';

export const outsideItsWall: Rule = {
  id: 'outside-its-wall',
  family: 'parts',
  title: 'An opening or a fixture lies outside its wall',
  explanation:
    'A door, a cased opening or something in the wall is said to be where the wall is not: before its left end, behind its right end, or above it. ' +
    'One of the two is a slip, and everything that is compared with it would be compared in vain. Where the wall was surveyed, what was measured counts.',
  severity: 'error',
  source: { kind: 'language' },
  comparison: '0 <= place along the wall <= length of the wall; highest point <= height of the wall',
};

export const outsideWallCheck: Check = {
  rules: [outsideItsWall],
  run: (input) => thingsIn(input.layout).flatMap((thing) => outside(thing, input)),
};

interface InWall {
  readonly path: string;
  readonly called: string;
  readonly place: Finding['place'];
  readonly wall: WallLayout;
  readonly from: Ticks;
  readonly to: Ticks;
  readonly top: Ticks;
}

function thingsIn({ openings, fixtures, walls }: Layout): InWall[] {
  const wallOf = (name: string | undefined): WallLayout | undefined => walls.find((wall) => wall.name === name);
  const found: InWall[] = [];
  for (const { name, place, wall: on, from, width, height } of openings) {
    const wall = wallOf(on);
    const called = `opening "${name}"`;
    if (wall) found.push({ path: name, called, place, wall, from, to: add(from, width), top: height });
  }
  for (const fixture of fixtures) {
    const wall = wallOf(fixture.wall);
    const { x, z } = fixture.box;
    const { name, place } = fixture;
    if (wall) found.push({ path: name, called: fixtureName(fixture), place, wall, from: x[0], to: x[1], top: z[1] });
  }
  return found;
}

/** How large the wall is, and where that is said. */
interface Size {
  readonly text: string;
  readonly place: Finding['place'] | undefined;
}

/** What is wrong first: what lies before the wall may lie behind it as well, and is to be written anew anyway. */
function outside(thing: InWall, input: CheckInput): Finding[] {
  const { path, called, wall, from, to, top } = thing;
  const { show } = input;
  if (passesUnheard(input, from >= 0 && to <= wall.length && top <= (wall.height ?? top))) return [];
  const name = wallName(wall.name);
  const told = (message: string, advice: string, comparison: Comparison, size: Size): Finding =>
    finding(outsideItsWall, thing.place, `${capital(called)} ${message}`, {
      about: path,
      causes: fromTemplate,
      advice,
      comparison,
      related: size.place ? [{ place: size.place, message: `${capital(name)} is ${size.text}.` }] : [],
    });
  const long: Size = { text: `${showLength(wall.length, show)} long`, place: wall.lengthPlace };
  const width = subtract(to, from);
  if (width > wall.length) {
    const wide = compared(`width of "${path}"`, width, 'at most', wall.length);
    looked(input, outsideItsWall, thing, wide, false);
    return [
      told(
        `is ${showLength(width, show)} wide, and ${name} is ${long.text}.`,
        `Make it at most ${showLength(wall.length, show)} wide.`,
        wide,
        long,
      ),
    ];
  }
  const left = compared(`left end of "${path}"`, from, 'at least', NONE);
  if (!looked(input, outsideItsWall, thing, left, from >= 0)) {
    const over = showLength(subtract(NONE, from), show);
    return [
      told(
        `begins ${over} before the left end of ${name}.`,
        `Move it to the right by ${over}, or make it narrower.`,
        left,
        long,
      ),
    ];
  }
  const right = compared(`right end of "${path}"`, to, 'at most', wall.length);
  if (!looked(input, outsideItsWall, thing, right, to <= wall.length)) {
    const over = showLength(subtract(to, wall.length), show);
    return [
      told(
        `reaches ${showLength(to, show)} along ${name}, which is ${long.text}.`,
        `Move it to the left by ${over}, or make it narrower.`,
        right,
        long,
      ),
    ];
  }
  if (wall.height === undefined) return [];
  const height = compared(`highest point of "${path}"`, top, 'at most', wall.height);
  if (looked(input, outsideItsWall, thing, height, top <= wall.height)) return [];
  const high: Size = { text: `${showLength(wall.height, show)} high`, place: wall.heightPlace };
  return [
    told(
      `reaches up to ${showLength(top, show)}, and ${name} is ${high.text}.`,
      `Make it at most ${showLength(wall.height, show)} high, or lower it.`,
      height,
      high,
    ),
  ];
}
