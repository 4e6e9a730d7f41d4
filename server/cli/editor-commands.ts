/** The commands that tell and do what an editor does with a text, for scripts and for whoever works without one. */
import { type Command, Option } from 'commander';
import type { HintKind } from '../language/inlay-hints.ts';
import { deliver } from './answer.ts';
import type { HintsOptions } from './hints.ts';
import type { LensesOptions } from './lenses.ts';
import type { ReferencesOptions, SymbolsOptions } from './names.ts';
import type { RefactorOptions } from './refactor.ts';
import type { RenameOptions } from './rename.ts';
import type { Common } from './session.ts';
import type { UsersOptions } from './template-users.ts';
import type { CompleteOptions } from './typing.ts';

/** The kinds stand here once more, so that help needs no parser. */
const hintKinds = ['width', 'height', 'cut', 'value', 'default'] as const satisfies readonly HintKind[];
const lensKinds = ['uses', 'boards', 'savings', 'stock'] as const;

/** `answering` begins a command that answers an exit status, in these formats. */
export function addEditorCommands(
  answering: (usage: string, description: string, formats: readonly string[]) => Command,
): void {
  const both = ['text', 'json'];
  answering('definition <place>', 'where the name at FILE:LINE[:COLUMN] is declared', both).action(
    async (at: string, options: Common) => {
      const { definition } = await import('./names.ts');
      await deliver(definition(at, options), options.output);
    },
  );
  answering(
    'type-definition <place>',
    'where what the thing at FILE:LINE[:COLUMN] is made of or after is declared: material, template, hardware',
    both,
  ).action(async (at: string, options: Common) => {
    const { typeDefinition } = await import('./names.ts');
    await deliver(typeDefinition(at, options), options.output);
  });
  answering('references <place>', 'where what is named at FILE:LINE[:COLUMN] is named', both)
    .option('--no-declaration', 'without the places that declare it')
    .action(async (at: string, options: ReferencesOptions) => {
      const { references } = await import('./names.ts');
      await deliver(references(at, options), options.output);
    });
  answering('hover <place>', 'what an editor tells of what stands at FILE:LINE[:COLUMN]', both).action(
    async (at: string, options: Common) => {
      const { hover } = await import('./names.ts');
      await deliver(hover(at, options), options.output);
    },
  );
  answering(
    'users <place>',
    'the units that use the template at FILE:LINE[:COLUMN], and the templates that extend it',
    both,
  )
    .option('--through', 'those too that use it through a template that extends it')
    .action(async (at: string, options: UsersOptions) => {
      const { users } = await import('./template-users.ts');
      await deliver(users(at, options), options.output);
    });
  answering(
    'bases <place>',
    'what the unit or template at FILE:LINE[:COLUMN] is built on: its template, what that extends, and so on',
    both,
  ).action(async (at: string, options: Common) => {
    const { bases } = await import('./template-users.ts');
    await deliver(bases(at, options), options.output);
  });
  answering('complete <place>', 'what may be written at FILE:LINE[:COLUMN]; the best first', both)
    .option('--docs', 'with the documentation of each, which JSON has always')
    .action(async (at: string, options: CompleteOptions) => {
      const { complete } = await import('./typing.ts');
      await deliver(complete(at, options), options.output);
    });
  answering(
    'signature <place>',
    'what is being written at FILE:LINE[:COLUMN], and which part of it comes there',
    both,
  ).action(async (at: string, options: Common) => {
    const { signature } = await import('./typing.ts');
    await deliver(signature(at, options), options.output);
  });
  answering(
    'hints <stretch>',
    'the numbers that an editor shows beside the text of FILE, FILE:LINE or FILE:FROM-TO',
    both,
  )
    .option('--why', 'with where each comes from, as Markdown')
    .addOption(new Option('--kind <kind>', 'those of one kind alone').choices(hintKinds))
    .action(async (stretch: string, options: HintsOptions) => {
      const { hints } = await import('./hints.ts');
      await deliver(hints(stretch, options), options.output);
    });
  answering(
    'lenses <stretch>',
    'what an editor shows above the templates and units of FILE, FILE:LINE or FILE:FROM-TO',
    both,
  )
    .addOption(new Option('--kind <kind>', 'those of one kind alone').choices(lensKinds))
    .action(async (stretch: string, options: LensesOptions) => {
      const { lenses } = await import('./lenses.ts');
      await deliver(lenses(stretch, options), options.output);
    });
  answering('symbols [paths...]', 'what is declared, and the things in templates', both)
    .option('--named <text>', 'those with this in their names, or with its letters in their order; best first', '')
    .action(async (paths: string[], options: SymbolsOptions) => {
      const { symbols } = await import('./names.ts');
      await deliver(symbols(paths, options), options.output);
    });
  answering('outline [paths...]', 'what is in each file, block within block', both).action(
    async (paths: string[], options: Common) => {
      const { outline } = await import('./outline.ts');
      await deliver(outline(paths, options), options.output);
    },
  );
  answering('links [paths...]', 'the libraries that files use, with the files of each', both).action(
    async (paths: string[], options: Common) => {
      const { links } = await import('./outline.ts');
      await deliver(links(paths, options), options.output);
    },
  );
  answering('rename <place> <name>', 'gives what is named at FILE:LINE[:COLUMN] another name, in all files', both)
    .option('--dry-run', 'show what would change, and write nothing')
    .action(async (at: string, name: string, options: RenameOptions) => {
      const { rename } = await import('./rename.ts');
      await deliver(await rename(at, name, options), options.output);
    });
  answering(
    'refactor <place> [id]',
    'what an editor offers to rewrite at FILE:LINE[:COLUMN], what is built left as it is; with an id, rewrites it',
    both,
  )
    .option('--dry-run', 'with an id: show what would change, and write nothing')
    .action(async (at: string, id: string | undefined, options: RefactorOptions) => {
      const { refactor } = await import('./refactor.ts');
      await deliver(await refactor(at, id, options), options.output);
    });
}
