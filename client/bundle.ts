/**
 * Bundles what is shipped into dist/: the terminal command, the language server and the VS Code client, the last two
 * for a browser as well; beside them the pages of the rules and the fonts of sheets. Plain CommonJS, so that the VS Code
 * extension hosts and an old Node (which the launcher turns away in words) can load it; plain scripts for the workers of
 * a browser. Run with no arguments for a release build, with --map to keep source maps and readable names, with --sbom
 * to write the bill of materials of what was bundled beside it.
 */
import { chmod, copyFile, mkdir, mkdtemp, readdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { type BuildOptions, build } from 'esbuild';
import { billOfMaterials, bundledPackages, noticesOf, type Taken, takenInto } from './bundled.ts';
import type { PackageManifest } from './licences.ts';

const root = path.resolve(import.meta.dirname, '..');

interface Entry {
  from: string;
  to: string;
  /** Modules that the host provides and that must not be bundled. */
  external: string[];
  /** Runs in a browser, and finds nothing of Node there. */
  web?: true;
}

const entries: readonly Entry[] = [
  { from: 'server/cli/main.ts', to: 'dist/cli.cjs', external: [] },
  { from: 'server/protocol/node.ts', to: 'dist/server.cjs', external: [] },
  // Beside whoever starts it: the command and the server alike.
  { from: 'server/protocol/plan-worker.ts', to: 'dist/plan-worker.cjs', external: [] },
  { from: 'client/extension.ts', to: 'dist/client.cjs', external: ['vscode'] },
  { from: 'server/protocol/browser.ts', to: 'dist/server-web.js', external: [], web: true },
  { from: 'server/protocol/web-plan-worker.ts', to: 'dist/plan-worker-web.js', external: [], web: true },
  // What runs in the page for the site, which carries it.
  { from: 'server/sheets/site-page/in-page/main.ts', to: 'dist/site-page-web.js', external: [], web: true },
  { from: 'client/extension-web.ts', to: 'dist/client-web.js', external: ['vscode'], web: true },
  // The page of the drawing, beside whichever of the two shows it.
  { from: 'client/drawing/page.ts', to: 'dist/drawing.js', external: [], web: true },
  { from: 'client/drawing/page.css', to: 'dist/drawing.css', external: [], web: true },
];

/** A finding links to the page of its rule: dist/rules/RULE.md. */
const rulePages = { from: 'server/checks/RULES.md', to: 'rules' };

/** The fonts of PDF files, which embed what they use of them, and their licence. */
const fonts = {
  from: 'node_modules/dejavu-fonts-ttf',
  files: ['ttf/DejaVuSansCondensed.ttf', 'ttf/DejaVuSansCondensed-Bold.ttf', 'LICENSE'],
  to: 'fonts',
};

const notices = 'third-party-notices.txt';
const bill = 'storypole.cdx.json';

const launcher = { from: 'server/cli/launcher.cjs', to: 'dist/storypole.cjs' };

async function exists(file: string): Promise<boolean> {
  return stat(path.join(root, file)).then(
    (found) => found.isFile(),
    () => false,
  );
}

const forNode: BuildOptions = {
  platform: 'node',
  format: 'cjs',
  target: 'node22',
  // `import.meta` does not exist in CommonJS; what stands for it is the bundle's own place.
  define: {
    'import.meta.url': 'bundleUrl',
    'import.meta.dirname': '__dirname',
    'import.meta.filename': '__filename',
  },
  banner: { js: "const bundleUrl = require('node:url').pathToFileURL(__filename).href;" },
};

/** A worker's script is one file; only what VS Code loads may ask for a module, and for none but `vscode`. */
function forBrowsers({ external }: Pick<Entry, 'external'>): BuildOptions {
  return { platform: 'browser', format: external.length > 0 ? 'cjs' : 'iife', target: 'es2022' };
}

/** Writes one bundle. Rejects with esbuild's own message when the source does not bundle. */
async function bundle(entry: Entry, outfile: string, map: boolean): Promise<Taken[]> {
  const { metafile } = await build({
    absWorkingDir: root,
    entryPoints: [entry.from],
    outfile,
    bundle: true,
    ...(entry.web ? forBrowsers(entry) : forNode),
    external: entry.external,
    minify: !map,
    sourcemap: map,
    // Libraries that ship both kinds are taken as ES modules: only those can be thinned.
    mainFields: ['module', 'main'],
    metafile: true,
    logLevel: 'warning',
  });
  if (!map && !outfile.endsWith('.css')) await writeFile(outfile, inAscii(await readFile(outfile, 'utf8')));
  return takenInto(path.basename(entry.to), metafile, root);
}

/**
 * A script in ASCII alone, which the engine keeps in a byte a letter and not in two. esbuild escapes what is in strings;
 * what is left stands in regular expressions, and in raw templates of such, where the same escapes are read.
 */
function inAscii(script: string): string {
  return script.replace(/[^\0-\x7f]/g, (unit) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`);
}

/** Builds everything into a folder; answers what it took from others, or nothing where something could not be built, which has been told. */
async function buildInto(folder: string, map: boolean): Promise<Taken[] | undefined> {
  let failed = 0;
  const taken: Taken[] = [];
  for (const entry of entries) {
    if (!(await exists(entry.from))) {
      process.stderr.write(`bundle: ${entry.from} does not exist, so ${entry.to} was not written.\n`);
      failed += 1;
      continue;
    }
    try {
      taken.push(...(await bundle(entry, path.join(folder, path.basename(entry.to)), map)));
    } catch (error) {
      const reason = error instanceof Error ? error.message : String(error);
      process.stderr.write(`bundle: ${entry.from} does not bundle: ${reason}\n`);
      failed += 1;
    }
  }
  await copyFile(path.join(root, launcher.from), path.join(folder, path.basename(launcher.to)));
  await chmod(path.join(folder, path.basename(launcher.to)), 0o755);
  return failed > 0 ? undefined : taken;
}

/** The licences of what is shipped go with it; the bill of materials lies beside it. */
async function writeAbout(folder: string, taken: readonly Taken[], sbom: boolean): Promise<void> {
  const ofFonts = { into: `${fonts.to}/`, folder: path.join(root, fonts.from) };
  const packages = await bundledPackages([...taken, ofFonts]);
  await writeFile(path.join(folder, notices), await noticesOf(packages));
  if (!sbom) return;
  const json = async (file: string) => JSON.parse(await readFile(path.join(root, file), 'utf8'));
  const { packages: locked } = (await json('package-lock.json')) as {
    packages: Record<string, { version?: string; integrity?: string }>;
  };
  const integrityOf = ({ name, version }: PackageManifest): string | undefined =>
    Object.entries(locked).find(([at, one]) => at.endsWith(`node_modules/${name}`) && one.version === version)?.[1]
      .integrity;
  await writeFile(path.join(folder, bill), await billOfMaterials(await json('package.json'), packages, integrityOf));
}

/** One page for each rule, so that an editor that knows no anchors opens it where the reader wants to be. */
async function writeRulePages(folder: string): Promise<void> {
  if (!(await exists(rulePages.from))) return;
  const text = await readFile(path.join(root, rulePages.from), 'utf8');
  await mkdir(folder, { recursive: true });
  const pages = text.split(/^### /m).slice(1);
  const written = pages.map(async (page) => {
    const [id = '', ...body] = (page.split(/^## /m)[0] ?? '').trim().split('\n');
    // What it is about reads better at the head of a page than the rule's name.
    const text = body
      .join('\n')
      .trim()
      .replace(/^\*\*(.+)\*\*$/m, `# $1\n\n\`${id}\``);
    const aside = path.join(folder, `.${id}.new`);
    await writeFile(aside, `${text}\n\n[All rules](../../${rulePages.from})\n`);
    await rename(aside, path.join(folder, `${id}.md`));
    return `${id}.md`;
  });
  const current = new Set(await Promise.all(written));
  for (const name of await readdir(folder)) if (!current.has(name)) await rm(path.join(folder, name));
}

async function copyFonts(folder: string): Promise<void> {
  await mkdir(folder, { recursive: true });
  for (const file of fonts.files) {
    const name = path.basename(file);
    const aside = path.join(folder, `.${name}.new`);
    await copyFile(path.join(root, fonts.from, file), aside);
    await rename(aside, path.join(folder, name));
  }
}

async function main(): Promise<number> {
  const map = process.argv.includes('--map');
  const dist = path.join(root, 'dist');
  await mkdir(dist, { recursive: true });
  // Built aside and moved into place file by file: whoever runs the command meanwhile finds the old one or the new one.
  const fresh = await mkdtemp(path.join(root, 'dist', '.new-'));
  try {
    // The server and its worker belong together: where one does not build, all old ones stay.
    const taken = await buildInto(fresh, map);
    if (!taken) return 1;
    await writeAbout(fresh, taken, process.argv.includes('--sbom'));
    const made = await readdir(fresh);
    for (const name of made) await rename(path.join(fresh, name), path.join(dist, name));
    for (const name of await readdir(dist)) {
      if (/[.](c?js|css|cdx[.]json)([.]map)?$/.test(name) && !made.includes(name)) await rm(path.join(dist, name));
    }
    await writeRulePages(path.join(dist, rulePages.to));
    await copyFonts(path.join(dist, fonts.to));
    return 0;
  } finally {
    await rm(fresh, { recursive: true, force: true });
  }
}

process.exitCode = await main();
