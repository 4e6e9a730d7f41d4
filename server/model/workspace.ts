/**
 * The one loader: which file belongs to which project, their texts, and the libraries they use. The
 * editor and the terminal both load through it.
 */

import { type Edit, Source } from '../../grammar/source.ts';
import { type Place, segmentOf } from '../../grammar/tree.ts';
import { decode } from './decode.ts';
import { notAll, notText, passedOver, standsAlone, tooLarge, unreadable } from './file-findings.ts';
import { type Files, isWithin, parentOf } from './files.ts';
import type { Finding } from './finding.ts';
import { openLibrary } from './library.ts';
import { limits, limitText } from './limits.ts';
import type { Declared } from './names.ts';
import { edited, lengthAfter, type OpenText, placesIn, type TextPlaces, withOpen } from './open-files.ts';
import type { Library } from './project.ts';
import { Project, type ProjectOptions } from './project.ts';
import { type Declaration, declarationIn, mayDeclareProject } from './project-declared.ts';
import { topWords } from './vocabulary.ts';
import { comesTo, isLookedInto, passedOverBetween } from './walked.ts';
import { nothingSpare, spareOf, takeOver } from './workspace-spare.ts';

export interface WorkspaceOptions {
  readonly files: Files;
  readonly project: Omit<ProjectOptions, 'openLibrary'>;
  /** Folders that `use` may reach into; the repository around a project where none is given. */
  readonly folders: readonly string[];
  /** Nothing above these folders may be read: somebody has opened what he does not trust. */
  readonly staysWithin?: () => boolean;
}

export interface LoadedProject {
  /** The folder that declares it; for a file outside any project, the file. */
  readonly root: string;
  readonly project: Project;
  /** A file outside any project. */
  readonly alone: boolean;
}

export const largestFile = limits.largestFile.most;
/** So many folders above a file are looked into for its project. */
const mostAbove = 100;
interface Walk {
  readonly into: string[];
  readonly root: string | undefined;
  /** How many were listed. */
  folders: number;
  problem: string | undefined;
}

interface Collected {
  /** Why not all was collected. */
  readonly problem: string | undefined;
  /** All was, but for what was passed over. */
  readonly isPartly: boolean;
}

export class Workspace {
  private readonly options: WorkspaceOptions;
  /** What is on disk, and what is open. */
  private readonly files: Files;
  private readonly loaded = new Map<string, LoadedProject>();
  /** Texts of open documents, by path. They go before what is on disk. One that is read is kept by its source. */
  private readonly open = new Map<string, OpenText>();
  /** Of folders, whether a file in them declares a project. */
  private readonly declares = new Map<string, Declaration>();
  /** Files that were parsed to find out whether they declare a project, until they are put into one. */
  private readonly parsed = new Map<string, Source>();
  /** Files that could not be read, or not as text. */
  private readonly unread = new Set<string>();
  /** While files are shared out anew. */
  private spare = nothingSpare;
  /** Folders of the projects that have read a file for a library. */
  private readonly users = new Map<string, Set<string>>();
  private readonly home = new Map<string, LoadedProject>();
  /** Folders that were loaded as a whole, beside those of the options. */
  private readonly walked = new Set<string>();
  /** Of projects that have more than is read: the file at which that is told, and in which words. */
  private readonly cutShort = new Map<LoadedProject, { readonly at: string; readonly problem: string }>();
  /** A link is being followed. */
  private isFollowing = false;

  constructor(options: WorkspaceOptions) {
    this.options = options;
    this.files = withOpen(options.files, this.open);
  }

  get projects(): LoadedProject[] {
    return [...this.loaded.values()];
  }

  // Loading

  /** Loads the projects of all .closet files in and under a folder. Problems with the folder itself come back. */
  loadFolder(folder: string): { readonly files: string[]; readonly problem?: string } {
    this.walked.add(folder);
    const loaded = this.loadUnder(folder);
    this.parsed.clear();
    return loaded;
  }

  private loadUnder(folder: string): { readonly files: string[]; readonly problem?: string } {
    const files: string[] = [];
    const { problem, isPartly } = this.collect(folder, files);
    if (problem !== undefined && !isPartly) return { files, problem };
    for (const file of files) this.loadFile(file);
    // The whole of the project that the folder lies in.
    const root = this.rootOf(`${folder}/x.closet`);
    if (root !== undefined && root !== folder && passedOverBetween(root, folder) === undefined) this.projectAt(root);
    return problem === undefined ? { files } : { files, problem };
  }

  /** Loads the project that a file belongs to. */
  loadFile(path: string): LoadedProject {
    const known = this.home.get(path);
    if (known) return known;
    const root = this.rootOf(path);
    // What a project passes over, as what was installed for it, stands alone where somebody opens it.
    if (root !== undefined && passedOverBetween(root, parentOf(path)) === undefined) {
      const loaded = this.projectAt(root);
      if (!this.home.has(path)) this.put(loaded, path);
      return loaded;
    }
    const alone = this.makeProject(path, true, [path]);
    this.put(alone, path);
    return alone;
  }

  /** The project of a file that is loaded. */
  projectOf(path: string): LoadedProject | undefined {
    return this.home.get(path);
  }

  private projectAt(root: string): LoadedProject {
    const known = this.loaded.get(root);
    if (known) return known;
    const files: string[] = [];
    const { problem } = this.collect(root, files, root);
    const loaded = this.makeProject(root, false, files);
    const [first] = files;
    if (problem !== undefined && first !== undefined) this.cutShort.set(loaded, { at: first, problem });
    for (const file of files) this.put(loaded, file);
    return loaded;
  }

  private makeProject(root: string, alone: boolean, files: readonly string[]): LoadedProject {
    const project =
      takeOver(this.spare, files) ??
      new Project({
        ...this.options.project,
        openLibrary: (use, from): Library => this.library(use, from),
        withoutConsequences: true,
      });
    const loaded: LoadedProject = { root, project, alone };
    this.loaded.set(root, loaded);
    return loaded;
  }

  /** Reads a file into its project, or moves it there from where it was. */
  private put(loaded: LoadedProject, path: string): void {
    this.home.set(path, loaded);
    const { project } = loaded;
    const moved = this.spare.sources.get(path);
    if (moved) {
      if (project.sources.get(path) !== moved) project.addSource(moved);
      project.setFileProblem(path, this.hintFor(loaded, path, moved.text));
      return;
    }
    const text = this.textOf(path);
    const parsed = this.parsed.get(path);
    this.parsed.delete(path);
    if (typeof text === 'string') {
      this.unread.delete(path);
      if (parsed?.text === text && !project.sources.has(path)) project.addSource(parsed);
      else project.setFile(path, text);
      project.setFileProblem(path, this.hintFor(loaded, path, text));
    } else {
      this.unread.add(path);
      project.setFile(path, '');
      project.setFileProblem(path, text);
    }
  }

  /** A link is read only where it leads to what lies within a folder: the workspace, if it is not said. */
  private textOf(path: string, within?: string): string | ((place: Place) => Finding) {
    const open = this.open.get(path)?.text;
    if (open !== undefined) return open.length <= largestFile ? open : (place) => tooLarge(place, open.length);
    const read = this.files.read(path, largestFile, () => within ?? this.boundaryOfLink(path));
    if (read.kind === 'failed') return (place) => unreadable(place, path, read.why);
    if (read.kind === 'too-large') return (place) => tooLarge(place, read.size);
    const decoded = decode(read.bytes);
    return decoded.kind === 'text' ? decoded.text : (place) => notText(place, decoded.message);
  }

  // Which project

  /** The nearest folder above a file that declares a project, in an editor the same as in the terminal. */
  private rootOf(path: string): string | undefined {
    let folder = parentOf(path);
    /** Where a slip of the word is all that there is, that is the project, which says so; else each file would stand alone. */
    let slip: string | undefined;
    for (let above = 0; above < mostAbove; above++) {
      const declared = this.declaredIn(folder);
      if (declared === 'project') return folder;
      if (declared === 'slip') slip ??= folder;
      if (folder === parentOf(folder) || this.isRepository(folder) || this.isClosedAbove(folder)) return slip;
      folder = parentOf(folder);
    }
    return slip;
  }

  /** Projects are not looked for above it. */
  private isRepository(folder: string): boolean {
    return this.files.kindOf(`${folder}/.git`) !== undefined;
  }

  /** A workspace folder that may not be left. */
  private isClosedAbove(folder: string): boolean {
    return this.options.staysWithin?.() === true && this.options.folders.includes(folder);
  }

  /** What is said of a file that can be read: that it stands alone, or that there are more than are read. */
  private hintFor(loaded: LoadedProject, path: string, text: string): ((place: Place) => Finding) | undefined {
    const short = this.cutShort.get(loaded);
    if (short?.at === path) return (place) => notAll(place, short.problem);
    if (!loaded.alone || text.trim() === '') return undefined;
    const { root } = loaded;
    const passed = this.passedOverAbove(root);
    if (passed !== undefined) return (place) => passedOver(place, passed);
    const why = this.whyNotAbove(root);
    return (place) => standsAlone(place, root, why);
  }

  /** The folder by which the project above a file does not look into the folder of that file. */
  private passedOverAbove(path: string): string | undefined {
    const root = this.rootOf(path);
    return root === undefined ? undefined : passedOverBetween(root, parentOf(path));
  }

  /** Why a project that the terminal would find above the folder that is open is not found here. */
  private whyNotAbove(path: string): string | undefined {
    for (let folder = parentOf(path); ; folder = parentOf(folder)) {
      if (folder === parentOf(folder) || this.isRepository(folder)) return undefined;
      if (!this.options.folders.includes(folder)) continue;
      if (this.isClosedAbove(folder)) return 'what lies above it is not read in a workspace that is not trusted';
      if (this.files.list(parentOf(folder)) === undefined) return 'what lies above it cannot be read from here';
    }
  }

  private declaredIn(folder: string): Declaration {
    const known = this.declares.get(folder);
    if (known !== undefined) return known;
    let found: Declaration = 'none';
    for (const { kind, name } of this.files.list(folder) ?? []) {
      if (kind !== 'file' || !name.endsWith('.closet')) continue;
      const declared = this.declaredBy(`${folder}/${name}`);
      if (declared !== 'none') found = declared;
      if (declared === 'project') break;
    }
    this.declares.set(folder, found);
    return found;
  }

  /** Whether a folder is a project of its own, though it lies in that of another. */
  private isProjectWithin(folder: string, root: string): boolean {
    const declared = this.declaredIn(folder);
    return declared === 'project' || (declared === 'slip' && this.declaredIn(root) !== 'project');
  }

  private declaredBy(path: string): Declaration {
    const moved = this.spare.sources.get(path);
    if (moved) return declarationIn(moved);
    const text = this.textOf(path);
    // A text is parsed only where it can be there.
    if (typeof text !== 'string' || !mayDeclareProject(text)) return 'none';
    const known = this.parsed.get(path) ?? this.home.get(path)?.project.sources.get(path);
    if (known?.text === text) return declarationIn(known);
    const source = new Source(path, text, topWords);
    this.parsed.set(path, source);
    return declarationIn(source);
  }

  /** Adds the .closet files in and under a folder. With `root`, folders that hold another project are passed over. */
  private collect(folder: string, into: string[], root?: string): Collected {
    const walk: Walk = { into, root, folders: 0, problem: undefined };
    const stopped = this.walk(folder, walk, 0);
    return { problem: stopped ?? walk.problem, isPartly: stopped === undefined };
  }

  /** What keeps it from going on; what it only passed over is kept in the walk. */
  private walk(folder: string, walk: Walk, depth: number): string | undefined {
    const { into, root } = walk;
    const entries = this.files.list(folder);
    if (!entries) return depth === 0 ? `The folder ${folder} cannot be listed.` : undefined;
    if (++walk.folders > limits.mostFolders.most)
      return `More than ${limitText('mostFolders')} folders are under the one that was opened; open a smaller one.`;
    for (const entry of entries) {
      const path = folder === '/' ? `/${entry.name}` : `${folder}/${entry.name}`;
      if (entry.kind === 'file') {
        if (entry.name.endsWith('.closet')) into.push(path);
      } else if (isLookedInto(entry.name)) {
        if (depth >= limits.deepestFolders.most) {
          walk.problem ??= `Folders more than ${limitText('deepestFolders')} deep are not looked into, such as ${path}.`;
          continue;
        }
        if (root !== undefined && this.isProjectWithin(path, root)) continue;
        // A folder named like a file is one that somebody took for a file.
        const problem = this.walk(path, walk, depth + 1);
        if (problem) return problem;
      }
      if (into.length > limits.mostFiles.most)
        return `More than ${limitText('mostFiles')} .closet files are in and under the folder that was opened; open a smaller one.`;
    }
    return undefined;
  }

  // Libraries

  private library(use: Declared, from: string): Library {
    const loaded = this.home.get(from);
    const root = loaded?.alone ? parentOf(loaded.root) : (loaded?.root ?? parentOf(from));
    return openLibrary(use, from, root, {
      files: this.files,
      textOf: (path, within) => {
        const users = this.users.get(path);
        if (users) users.add(root);
        else this.users.set(path, new Set([root]));
        return this.textOf(path, within);
      },
      collect: (folder) => {
        const found: string[] = [];
        this.collect(folder, found);
        return found;
      },
      boundary: (path) => this.boundaryOf(path),
    });
  }

  /** The folder that a `use` may not leave: the workspace folder, the repository, else the project itself. */
  private boundaryOf(path: string): string {
    const root = this.rootOf(path);
    // In the terminal the folder that is named is what is open.
    const open = [...this.options.folders, ...this.walked];
    const [outermost] = open.filter((f) => isWithin(f, path)).sort((a, b) => a.length - b.length);
    // Of a project that lies above it, which is whole wherever a part of it is open, the folder says nothing.
    const isAbove = root !== undefined && !open.some((f) => isWithin(f, root));
    const folder = isAbove ? undefined : outermost;
    for (let at = parentOf(path); ; at = parentOf(at)) {
      if (this.files.kindOf(`${at}/.git`) !== undefined)
        return folder !== undefined && isWithin(at, folder) ? at : (folder ?? at);
      if (at === '/' || at === parentOf(at)) break;
    }
    return folder ?? root ?? parentOf(path);
  }

  /** The same for a link, which may stand in the file that is to tell where the project is: then its own folder. */
  private boundaryOfLink(path: string): string {
    if (this.isFollowing) return parentOf(path);
    this.isFollowing = true;
    try {
      return this.boundaryOf(path);
    } finally {
      this.isFollowing = false;
    }
  }

  // Documents in an editor

  /** An open document: its text goes before what is on disk. */
  openDocument(path: string, text: string): LoadedProject {
    const isNew = this.files.kindOf(path) !== 'file';
    this.open.set(path, { text });
    if (isNew) this.reopenLibraries();
    else this.tellUsers(path);
    const known = this.home.get(path);
    if (known) {
      this.reread(path);
      return this.home.get(path) ?? this.loadFile(path);
    }
    // What is on disk, and not read yet, may have been known to declare the project of its folder.
    if ([this.declaredBy(path), this.declares.get(parentOf(path)) ?? 'none'].some((d) => d !== 'none'))
      this.shareOutAnew();
    return this.loadFile(path);
  }

  /** Projects that use the file as a library, or part of one, read it anew. */
  private tellUsers(path: string): void {
    const users = this.users.get(path);
    if (!users) return;
    for (const { root, project, alone } of this.loaded.values())
      if (users.has(alone ? parentOf(root) : root)) project.reopenLibraries();
  }

  /** A file came or went: a library that could not be opened may be there now, so it is not asked who has read it. */
  private reopenLibraries(): void {
    for (const { project } of this.loaded.values())
      if (!project.names.all('use').next().done) project.reopenLibraries();
  }

  /** The text of an open document, as it is in the editor. */
  openText(path: string): string | undefined {
    return this.open.get(path)?.text;
  }

  /** Lines and columns of an open document, as it is in the editor. */
  documentAt(path: string): TextPlaces | undefined {
    const open = this.open.get(path);
    const source = this.home.get(path)?.project.sources.get(path);
    if (!open || !source) return undefined;
    return isLarge(open) ? placesIn(open.text) : source;
  }

  /** Edits of an open document, each stated in the text that the one before it left. */
  editDocument(path: string, edits: readonly Edit[]): void {
    const loaded = this.home.get(path);
    const open = this.open.get(path);
    const source = loaded?.project.sources.get(path);
    if (!loaded || !open || !source) return;
    const had = declarationsOf(loaded.project, path);
    const length = isLarge(open) ? open.text.length : source.length;
    if (isLarge(open) || lengthAfter(length, edits) > largestFile) {
      // What is too large is kept as it is, and read when it has become small enough.
      this.open.set(path, { text: edited(open.text, edits) });
      this.put(loaded, path);
    } else {
      const wasBlank = isBlank(source);
      loaded.project.editFile(path, edits);
      this.open.set(path, source);
      // What stands alone is told so from its first word on.
      if (loaded.alone && wasBlank !== isBlank(source))
        loaded.project.setFileProblem(path, this.hintFor(loaded, path, source.text));
    }
    this.tellUsers(path);
    if (had !== declarationsOf(loaded.project, path)) this.shareOutAnew();
  }

  /** What was read only because somebody looked at it is let go with the last look. */
  closeDocument(path: string): void {
    this.open.delete(path);
    const loaded = this.home.get(path);
    if (!loaded) return;
    const isKept = loaded.alone ? this.isWanted(path) : this.isCalledFor(loaded.root) || this.holdsOpen(loaded);
    if (isKept && this.isWanted(path)) {
      this.changedOnDisk(path);
      return;
    }
    if (isKept) loaded.project.removeFile(path);
    else this.letGo(loaded);
    this.home.delete(path);
    this.reopenLibraries();
  }

  private letGo(loaded: LoadedProject): void {
    this.loaded.delete(loaded.root);
    this.cutShort.delete(loaded);
    for (const [file, of] of this.home) if (of === loaded) this.home.delete(file);
  }

  private holdsOpen({ project }: LoadedProject): boolean {
    return [...this.open.keys()].some((path) => project.sources.has(path));
  }

  /** The project of a file that is asked about without being open; undefined where nobody has asked for that. */
  askedAbout(path: string): LoadedProject | undefined {
    return this.home.get(path) ?? (this.isWanted(path) ? this.loadFile(path) : undefined);
  }

  /** Whether a file belongs to a project that is read, or stands alone in a folder that is, whoever looks at it. */
  private isWanted(path: string): boolean {
    if (!path.endsWith('.closet')) return false;
    const folder = parentOf(path);
    const root = this.rootOf(path);
    if (root === undefined || passedOverBetween(root, folder) !== undefined) return this.isComeTo(folder);
    return comesTo(this.files, root, folder) && (this.loaded.has(root) || this.isCalledFor(root));
  }

  /** Whether the project of a folder is read because of the folders that were asked for. */
  private isCalledFor(root: string): boolean {
    const lies = (folder: string): boolean => isWithin(root, folder) && passedOverBetween(root, folder) === undefined;
    return this.isComeTo(root) || this.options.folders.some(lies) || [...this.walked].some(lies);
  }

  private isComeTo(folder: string): boolean {
    for (const asked of this.options.folders) if (comesTo(this.files, asked, folder)) return true;
    for (const asked of this.walked) if (comesTo(this.files, asked, folder)) return true;
    return false;
  }

  /**
   * A file was made, changed or deleted outside the editor. An open document goes before it. Whether that may be
   * anything to us: a file that nobody has asked for and no library holds is none of ours.
   */
  changedOnDisk(path: string): boolean {
    if (this.open.has(path)) return true;
    const isOurs = this.home.has(path) || this.isWanted(path);
    if (isOurs) this.reread(path);
    this.reopenLibraries();
    return isOurs || this.usesLibraries;
  }

  private get usesLibraries(): boolean {
    return [...this.loaded.values()].some(({ project }) => !project.names.all('use').next().done);
  }

  /** A folder was made, or moved here, with all that is in it. Whether there is anything in it for us. */
  folderMade(folder: string): boolean {
    for (const known of this.declares.keys()) if (isWithin(folder, known)) this.declares.delete(known);
    const files: string[] = [];
    this.collect(folder, files);
    let isOurs = false;
    for (const file of files) isOurs = this.changedOnDisk(file) || isOurs;
    return isOurs;
  }

  /** A file went, or a folder with all that was in it. Whether any of it was ours. */
  wentAway(path: string): boolean {
    const gone = [...this.home.keys(), ...this.users.keys()].filter((file) => isWithin(path, file));
    if (path.endsWith('.closet')) gone.push(path);
    for (const file of new Set(gone)) this.changedOnDisk(file);
    return gone.length > 0;
  }

  private reread(path: string): void {
    const loaded = this.home.get(path);
    const exists = this.files.kindOf(path) === 'file';
    const now = exists ? this.declaredBy(path) : 'none';
    const source = loaded?.project.sources.get(path);
    const before = source ? declarationIn(source) : 'none';
    if (now !== before) {
      this.shareOutAnew(path);
      if (exists && (this.open.has(path) || this.isWanted(path))) this.loadFile(path);
      return;
    }
    if (!exists) {
      loaded?.project.removeFile(path);
      this.home.delete(path);
      if (loaded?.alone) this.loaded.delete(loaded.root);
    } else if (loaded) this.put(loaded, path);
    else this.loadFile(path);
  }

  /**
   * Which file belongs to which project is found out anew. Files keep their trees, but for one that has
   * changed outside the editor; a project goes on with what it has computed where most of it stays together.
   */
  private shareOutAnew(changed?: string): void {
    const folders = [...this.loaded.values()].filter((l) => !l.alone).map((l) => l.root);
    const files = [...this.home.keys()];
    const projects = [...this.loaded.values()].map(({ project }) => project);
    this.spare = spareOf(projects, (path) => path !== changed && !this.unread.has(path));
    try {
      this.forgetAll();
      for (const folder of folders) if (this.files.kindOf(folder) === 'folder') this.loadUnder(folder);
      for (const file of files) if (!this.home.has(file) && this.files.kindOf(file) === 'file') this.loadFile(file);
      for (const file of this.open.keys()) this.loadFile(file);
    } finally {
      this.spare = nothingSpare;
      this.parsed.clear();
    }
  }

  private forgetAll(): void {
    this.loaded.clear();
    this.home.clear();
    this.declares.clear();
    this.users.clear();
    this.cutShort.clear();
  }

  /** The folders of the options have changed: what is in them is loaded, what is not and not open is let go. */
  foldersChanged(): { readonly problem?: string }[] {
    this.forgetAll();
    this.walked.clear();
    const loaded = this.options.folders.map((folder) => this.loadUnder(folder));
    for (const file of this.open.keys()) this.loadFile(file);
    this.parsed.clear();
    return loaded;
  }
}

/** A source is never larger than the limit, and its text is in pieces. */
function isLarge(open: OpenText): boolean {
  return !(open instanceof Source) && open.text.length > largestFile;
}

/** What has to stay the same for files to stay where they are: how many projects a file declares, or that it has a slip of one. */
function declarationsOf(project: Project, path: string): number | 'slip' {
  const all = project.names.declarations('project', 'project');
  const own = all.filter((d) => segmentOf(d.statement).source.id === path).length;
  const source = project.sources.get(path);
  return own === 0 && all.length === 0 && source && declarationIn(source) === 'slip' ? 'slip' : own;
}

/** Looks no further than the first word. */
function isBlank({ segments }: Source): boolean {
  return segments.every(({ text }) => text.trim() === '');
}
