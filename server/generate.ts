/**
 * Writes the files that are derived from the vocabulary, the parser and the rules: the TextMate grammar, the
 * reference of the language and the pages of the rules.
 *
 *   node server/generate.ts            writes what is not current
 *   node server/generate.ts --check    writes nothing; fails with a sentence for each file that is not current
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { reference } from './generate-reference.ts';
import { rulePages } from './generate-rules.ts';
import { textMateGrammar } from './generate-textmate.ts';

export interface Generated {
  /** Path from the root of the repository. */
  readonly path: string;
  readonly text: string;
  readonly current: boolean;
}

const repository = fileURLToPath(new URL('..', import.meta.url));

/** Every generated file as it should be, and whether it is so in a folder. */
export function generatedFiles(root = repository): Generated[] {
  const files = [
    { path: 'grammar/closet.tmLanguage.json', text: textMateGrammar() },
    { path: 'grammar/REFERENCE.md', text: reference() },
    { path: 'server/checks/RULES.md', text: rulePages() },
  ];
  return files.map((file) => ({ ...file, current: onDisk(join(root, file.path)) === file.text }));
}

function onDisk(path: string): string | undefined {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return undefined;
  }
}

/** What `--check` says of a file that is not current. */
export function complaint(path: string): string {
  return `${path} is not what the vocabulary, the parser and the rules make of it. Run: npm run generate`;
}

if (import.meta.main) {
  const check = process.argv.includes('--check');
  for (const { path, text, current } of generatedFiles()) {
    if (current) continue;
    if (check) {
      console.error(complaint(path));
      process.exitCode = 1;
    } else {
      writeFileSync(join(repository, path), text);
      console.log(`${path} is written`);
    }
  }
}
