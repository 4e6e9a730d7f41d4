/** The libraries that a project uses, opened when they are first needed, and again when their files have changed. */
import { segmentOf, sliceOf } from '../../grammar/tree.ts';
import type { Finding } from './finding.ts';
import { errorsOfLibraries, type Library, type LibraryErrors } from './library.ts';
import type { Declared, Names } from './names.ts';
import * as rules from './rules.ts';

interface UsedLibrariesOptions {
  readonly known: Parameters<typeof errorsOfLibraries>[1];
  readonly openLibrary?: ((use: Declared, from: string) => Library) | undefined;
}

export class UsedLibraries {
  private readonly names: Names;
  private readonly options: UsedLibrariesOptions;
  private notOpened: readonly Finding[] = [];
  /** Names of libraries that could not be opened: what is in them is not known to be missing. */
  private readonly unopened = new Set<string>();
  /** What is wrong in them, from when it is first asked for until they are opened anew. */
  private wrong: LibraryErrors | undefined;
  /** They have to be opened, or opened anew. */
  areStale = true;

  constructor(names: Names, options: UsedLibrariesOptions) {
    this.names = names;
    this.options = options;
  }

  /** Opens them anew. Answers whether names may mean something else now: those of a library are not traced one by one. */
  open(): boolean {
    const { names, unopened } = this;
    this.areStale = false;
    this.wrong = undefined;
    unopened.clear();
    const findings: Finding[] = [];
    const had = names.libraries.size > 0;
    names.forgetLibraries();
    for (const use of names.written('use')) {
      if (names.libraries.has(use.name)) continue;
      const library = this.options.openLibrary?.(use, segmentOf(use.statement).source.id);
      if (library?.kind === 'opened') names.useLibrary(use.name, library.names);
      else if (library) {
        findings.push(library.finding);
        unopened.add(use.name);
      }
    }
    this.notOpened = findings;
    return had || names.libraries.size > 0;
  }

  /** What keeps one from being opened, and what is wrong in those that are. */
  get told(): readonly Finding[] {
    return [...this.notOpened, ...this.errors.told];
  }

  get unread(): LibraryErrors['unread'] {
    return this.errors.unread;
  }

  private get errors(): LibraryErrors {
    this.wrong ??= errorsOfLibraries(this.names, this.options.known);
    return this.wrong;
  }

  /** Without what only follows from a library that could not be opened. */
  withoutUnopened(findings: readonly Finding[]): readonly Finding[] {
    return this.unopened.size > 0 ? findings.filter((f) => !this.isFromUnopened(f)) : findings;
  }

  private isFromUnopened({ rule, place }: Finding): boolean {
    if (rule !== rules.nameNotKnown) return false;
    return this.unopened.has(sliceOf(place.statement, place).split('.')[0] ?? '');
  }
}
