/** Whole statements that are offered: where they may begin and nowhere else; each checks without an error where it is offered. */
import { describe, expect, it } from 'vitest';
import { completionsAt } from '../../server/language/completion.ts';
import { filledIn, snippetLabels } from '../../server/language/snippets.ts';
import { projectOf } from '../model/support.ts';
import { cursor } from './marked.ts';

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

/** Where each is meant to be. */
const places: Readonly<Record<string, string>> = {
  'new-template': '|\nunit a reach-in { width 93in }\n',
  'new-unit': `${template('')}|`,
  'new-survey': `${template('')}${unit}|`,
  'new-zone': `${template('', '|')}${unit}`,
  'new-shelf-row': `${template('|')}${unit}`,
  'new-rod': `${template('|')}${unit}`,
  'new-tower': `${template('', '|')}${unit}`,
};

function snippetsIn(marked: string) {
  const { snapshot, at } = cursor(marked);
  return completionsAt(snapshot, at).filter(({ kind }) => kind === 'snippet');
}

function snippetAt(label: string) {
  const found = snippetsIn(places[label] ?? '').find((one) => one.label === label);
  expect(found, label).toBeDefined();
  return { text: found?.text ?? '', snippet: found?.snippet ?? '' };
}

const put = (label: string, text: string): string => (places[label] ?? '').replace('|', () => text);

describe('snippets', () => {
  it('have a place each, and names of their own that no word of the language hides', () => {
    expect(Object.keys(places).sort()).toEqual([...snippetLabels].sort());
    for (const label of snippetLabels) expect(label).toMatch(/^new-[a-z-]+$/);
  });

  it('are offered where their statement may begin', () => {
    const labels = (marked: string) => snippetsIn(marked).map(({ label }) => label);
    expect(labels('|')).toEqual(['new-template', 'new-unit', 'new-survey']);
    // A name may have come as far as its hyphen.
    expect(labels('new-|')).toEqual(['new-template', 'new-unit', 'new-survey']);
    expect(snippetsIn('new-|')[0]).toMatchObject({ start: 0, end: 4 });
    expect(labels('new-z|')).toEqual(['new-template', 'new-unit', 'new-survey']);
    expect(labels(template('', '|'))).toEqual(['new-zone', 'new-tower']);
    expect(labels(template('|'))).toEqual(['new-shelf-row', 'new-rod']);
    expect(labels('board oak { | }')).toEqual([]);
    expect(labels(`${template('')}unit u reach-in { | }`)).toEqual([]);
  });

  it('are not offered where a value is wanted, in a comment, or before what is written already', () => {
    for (const inside of ['shelf s { at | }', 'shelf s { under | }', '// |', 'rod r { for | }', 'sh|elf s { at 3in }'])
      expect(snippetsIn(template(inside)), inside).toEqual([]);
    expect(snippetsIn('unit u |')).toEqual([]);
    expect(snippetsIn('|unit u reach-in { }')).toEqual([]);
  });

  it('name what is there: the templates, units and garments known, the zone before, the wall', () => {
    const two = 'template one { wall back { length 9in } }\ntemplate two { wall back { length 9in } }\n';
    expect(snippetsIn(`${two}|`)[1]?.snippet).toMatch(/\$\{2\|one,two\|\}/);
    expect(snippetsIn(`${template('')}${unit}|`)[2]?.snippet).toMatch(/^survey \$\{1:A-101-bedroom\} \{/);
    expect(snippetsIn(template('', '|'))[0]?.snippet).toMatch(
      /^zone \$\{1:coats\} on \$\{2:back\} after \$\{3:shirts\} \{/,
    );
    // The first zone stands after none.
    expect(snippetsIn('template t { wall side { length 9in }\n|\n}')[0]?.snippet).toMatch(/on \$\{2:side\} \{/);
    expect(snippetsIn(template('|'))[1]?.snippet).toMatch(/for \$\{5\|shirt,jacket,/);
  });

  it.each(snippetLabels)('%s checks without an error where it is offered, also in plain text', (label) => {
    const { text, snippet } = snippetAt(label);
    expect(text).toBe(filledIn(snippet));
    expect(text).not.toContain('$');
    const project = projectOf(put(label, text));
    const errors = project.findings().filter(({ severity }) => severity === 'error');
    expect(errors.map(({ rule, message }) => `${rule.id}: ${message}`)).toEqual([]);
    // It was understood and not merely passed over.
    expect([...project.units()].map(({ resolved }) => (resolved?.layout.parts.length ?? 0) > 0)).not.toContain(false);
  });

  it.each(snippetLabels)('%s is understood with every choice that it offers', (label) => {
    const { snippet } = snippetAt(label);
    for (const [whole, , choices = ''] of snippet.matchAll(/\$\{(\d+)\|([^|]*)\|\}/g)) {
      for (const choice of choices.split(',')) {
        const project = projectOf(put(label, filledIn(snippet.replace(whole, () => choice))));
        // What does not fit in one closet may fit in another; what is not understood fits in none.
        const misread = project.findings().filter(({ rule }) => ['text', 'words', 'names'].includes(rule.family));
        expect(
          misread.map(({ message }) => message),
          choice,
        ).toEqual([]);
      }
    }
  });
});
