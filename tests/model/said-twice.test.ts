import { describe, expect, it } from 'vitest';
import type { OpeningLayout } from '../../server/model/layout.ts';
import type { Project } from '../../server/model/project.ts';
import { check, inch } from './support.ts';

const template = (body: string): string => `template t {
  wall left { length 25in; height 96in }
  wall back { length 60in; height 96in }
  wall right { length 25in; height 96in }
${body}
}
`;

describe('two ways to say one thing', () => {
  it('in one block are told of, and the first one counts', () => {
    const project = check(
      template(`  opening front { width 30in; height 80in; centred; from left 10in }
//                                                  ^^^^ error word-repeated: "from" says again what "centred" says in an opening
  opening other on left { width 10in; height 80in; swing out; leaves sliding }
//                                                            ^^^^^^ error word-repeated: "leaves" says again what "swing" says in an opening`) +
        'unit u t\n',
    );
    // 30in in the middle of 60in.
    expect(inch(openingOf(project, 'u').from)).toBe('15in');
    expect(project.findings()[0]?.advice).toBe('The first one counts. Remove one of them.');
  });

  it('in a template and one that is built on it are one after the other: the last one counts', () => {
    const project = check(
      `${template('  opening front { width 30in; height 80in; from left 10in; swing in hinged left }')}
template wide extends t { opening front { centred; leaves sliding } }
unit u wide
unit v t
`,
    );
    // 30in in the middle of 60in.
    expect(inch(openingOf(project, 'u').from)).toBe('15in');
    expect(openingOf(project, 'u').leaf?.kind).toBe('sliding');
    expect(openingOf(project, 'v').leaf?.kind).toBe('swing');
  });

  it('in a template and an override are one after the other too', () => {
    const project = check(
      `${template('  opening front { width 30in; height 80in; from left 10in; swing in hinged left }')}
unit u t { override front { centred; leaves sliding } }
`,
    );
    // 30in in the middle of 60in.
    expect(inch(openingOf(project, 'u').from)).toBe('15in');
    expect(openingOf(project, 'u').leaf?.kind).toBe('sliding');
  });

  it('of a fixture are its distances from both ends of its wall', () => {
    check(
      template(`  fixture outlet on back { from left 20in; from right 3in; height 16in }
//                                         ^^^^^^^^^^^^^^ error word-repeated: "from" says again how far along its wall the outlet is
  fixture light on ceiling { from left 20in; from back 12in; from front 3in; clear 1in }
//                                                           ^^^^^^^^^^^^^^ error word-repeated: "from" says again how far from the back or front the light is`) +
        'unit u t\n',
    );
  });
});

function openingOf(project: Project, unit: string): OpeningLayout {
  const found = [...project.units()].find(({ name }) => name === unit)?.resolved?.layout.openings[0];
  if (!found) throw new Error(`unit ${unit} has no opening`);
  return found;
}
