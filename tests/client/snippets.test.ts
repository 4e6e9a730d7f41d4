/** Every snippet, inserted as it stands where it is meant to be, checks without an error. */
import { describe, expect, it } from 'vitest';
import snippets from '../../client/snippets.json' with { type: 'json' };
import { projectOf } from '../model/support.ts';

/** The text that is left when every place is passed over with Tab: defaults, first choices, and no final place. */
export function inserted(body: readonly string[]): string {
  const defaults = new Map<string, string>();
  return body
    .join('\n')
    .replace(/\$\{(\d+)\|((?:\\.|[^|\\])*)\|\}/g, (_, at: string, choices: string) => {
      const first = choices.split(/(?<!\\),/)[0] ?? '';
      defaults.set(at, first);
      return first;
    })
    .replace(/\$\{(\d+):([^}]*)\}/g, (_, at: string, text: string) => {
      defaults.set(at, text);
      return text;
    })
    .replace(/\$(?:\{(\d+)\}|(\d+))/g, (_, a?: string, b?: string) => defaults.get(a ?? b ?? '') ?? '');
}

const template = (inside: string, more = ''): string => `template reach-in {
  parameter width: length from 92in to 98in
  board white-12
  pole chrome
  wall left { length 25in; height 96in }
  wall back { length width; height 96in; studs every 16in from 14-1/2in }
  wall right { length 25in; height 96in }
  zone shirts on back {
    width 48in
    shelf top { at 84in }
    shelf low { at 36in }
    ${inside}
  }
  ${more}
}
`;
const unit = 'unit A-101-bedroom reach-in { floor 1; width 93-3/4in }\n';

/** Where each is meant to be inserted. */
const places: Readonly<Record<keyof typeof snippets, (text: string) => string>> = {
  Template: (text) => `${text}\nunit a reach-in { width 93in }\n`,
  Unit: (text) => `${template('')}${text}`,
  Survey: (text) => `${template('')}${unit}${text}`,
  Zone: (text) => `${template('', text)}${unit}`,
  'Row of shelves': (text) => `${template(text)}${unit}`,
  Rod: (text) => `${template(text)}${unit}`,
  Tower: (text) => `${template('', text)}${unit}`,
};

describe('snippets', () => {
  it('have prefixes of their own that no word of the language hides', () => {
    const prefixes = Object.values(snippets).map(({ prefix }) => prefix);
    expect(new Set(prefixes).size).toBe(prefixes.length);
    for (const prefix of prefixes) expect(prefix).toMatch(/^new-[a-z-]+$/);
  });

  it.each(Object.entries(snippets))('%s checks without an error where it is inserted', (name, { body }) => {
    const text = inserted(body);
    expect(text).not.toContain('$');
    const project = projectOf(places[name as keyof typeof snippets](text));
    const errors = project.findings().filter(({ severity }) => severity === 'error');
    expect(errors.map(({ rule, message }) => `${rule.id}: ${message}`)).toEqual([]);
    // It was understood and not merely passed over.
    expect([...project.units()].map(({ resolved }) => (resolved?.layout.parts.length ?? 0) > 0)).not.toContain(false);
  });

  it('takes every choice that a snippet offers', () => {
    for (const [name, { body }] of Object.entries(snippets)) {
      for (const [whole, , choices = ''] of body.join('\n').matchAll(/\$\{(\d+)\|((?:\\.|[^|\\])*)\|\}/g)) {
        for (const choice of choices.split(',')) {
          const text = inserted([body.join('\n').replace(whole, choice)]);
          const project = projectOf(places[name as keyof typeof snippets](text));
          // What does not fit in one closet may fit in another; what is not understood fits in none.
          const misread = project.findings().filter(({ rule }) => ['text', 'words', 'names'].includes(rule.family));
          expect(
            misread.map(({ message }) => message),
            `${name}: ${choice}`,
          ).toEqual([]);
        }
      }
    }
  });
});
