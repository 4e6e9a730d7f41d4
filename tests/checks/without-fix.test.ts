/** Rules for which nothing is offered, each with the reason: a new rule has to have a fix in its family's texts, or to be written down here. */
import { expect, it } from 'vitest';
import { fixesThatHold } from '../../server/checks/alternatives.ts';
import { advisedPlan, planProject } from '../../server/checks/analysis.ts';
import { rules } from '../../server/checks/table.ts';
import { casesByFamily, projectsOf } from '../messages/cases.ts';

const reasons: Readonly<Record<string, readonly string[]>> = {
  'What is wrong is the file, and not what stands in it': ['file-not-text', 'file-too-large', 'file-unreadable'],
  'What was meant is lost: nothing that could be written says it': [
    'nested-too-deep',
    'name-circle',
    'corner-not-there',
  ],
  'Nothing is wrong: it tells what is not compared': ['not-checked-yet', 'sag-not-known', 'light-without-distance'],
  'It tells what was found on site or what comes of it, for somebody to look at': [
    'survey-differs',
    'studs-uneven',
    'room-does-not-close',
    'corner-leaves-gap',
    'corner-out-of-square',
  ],
  'Two people have to agree first: on policies, libraries, counts': [
    'policies-contradict',
    'use-not-found',
    'library-has-errors',
    'use-outside-workspace',
    'use-path-not-relative',
    'too-many',
    'too-long',
    'offcut-worth-not-counted',
  ],
  'The room, the door or the building decides, and no number of the closet does': [
    'outside-its-wall',
    'floor-before-opening',
    'floor-before-door',
    'deep-closet-narrow-door',
    'turning-space-too-small',
    'closet-too-shallow',
    'hatch-too-small',
    'hatch-covered',
    'appliance-among-storage',
    'appliance-service-space',
    'panel-in-clothes-closet',
    'panel-working-height',
    'large-closet-one-head',
    'light-kind-barred',
    'wide-wardrobe',
  ],
  'Another layout is needed, of which there are many': [
    'no-room-for-part',
    'hanging-meets-hanging',
    'half-of-shelves-within-reach',
    'too-little-rod',
    'fixing-at-fixture',
  ],
  'Another material, a support more or a shorter span: an engineer or the maker says which': [
    'shelf-sags',
    'shelf-sags-past-advice',
    'shelf-overstressed',
    'rod-overstressed',
    'rod-span-long',
    'rod-thin',
    'more-brackets-for-load',
    'anchor-past-rating',
    'anchor-rated-low',
    'screws-pulled',
    'tall-panel-strip',
  ],
  'It is on the package, and not in the text': ['screw-size-not-read'],
  'Offered where hardware is declared that could do it, which the text of its message leaves out': ['part-not-carried'],
};

it('every rule has a fix somewhere in the texts of its family, or a reason why not', () => {
  const mended = new Set<string>();
  for (const one of [...casesByFamily().values()].flat()) {
    if (mended.has(one.rule)) continue;
    for (const project of projectsOf(one)) {
      const all = [...project.findings(), ...planProject(project).findings, ...advisedPlan(project).findings];
      const own = all.filter(({ rule }) => rule.id === one.rule);
      if (own.some((finding) => fixesThatHold(project, finding).length > 0)) mended.add(one.rule);
    }
  }
  const without = rules.map(({ id }) => id).filter((id) => !mended.has(id));
  expect(without.sort()).toEqual(Object.values(reasons).flat().sort());
});
