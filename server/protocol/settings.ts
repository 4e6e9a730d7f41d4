/**
 * What a person has set for the editor, of the section `storypole`. A client that can be asked is asked; one that
 * tells is listened to. What is not known, or of another type, counts as not said.
 */
import { type Connection, DidChangeConfigurationNotification, type InitializeParams } from 'vscode-languageserver';

export interface Settings {
  readonly inlayHints: {
    /** Width of a zone that takes what is left, or a share, or is in a range. */
    readonly widths: boolean;
    /** Height of what stands under or above something, or in a row. */
    readonly heights: boolean;
    /** Cut length of shelves, rods and panels. */
    readonly cutLengths: boolean;
    /** What an expression comes to. */
    readonly values: boolean;
    /** Defaults of parameters that a unit takes. */
    readonly defaults: boolean;
  };
  readonly codeLens: {
    /** Who uses a template. */
    readonly uses: boolean;
    /** What a unit takes of the cutting plan. */
    readonly boards: boolean;
    /** How near the longest part is to the next shorter stock length. */
    readonly savings: boolean;
    readonly stockLengths: boolean;
  };
}

export const section = 'storypole';

export const defaultSettings: Settings = {
  inlayHints: { widths: true, heights: true, cutLengths: true, values: true, defaults: true },
  codeLens: { uses: true, boards: true, savings: true, stockLengths: true },
};

/** Settings out of whatever a client says. */
export function settingsFrom(said: unknown): Settings {
  return laidOver(defaultSettings, said) as Settings;
}

function laidOver(standard: unknown, said: unknown): unknown {
  if (typeof standard !== 'object' || standard === null) return typeof said === typeof standard ? said : standard;
  const given: Readonly<Record<string, unknown>> = isRecord(said) ? said : {};
  return Object.fromEntries(Object.entries(standard).map(([key, value]) => [key, laidOver(value, own(given, key))]));
}

function own(of: Readonly<Record<string, unknown>>, key: string): unknown {
  return Object.hasOwn(of, key) ? of[key] : undefined;
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

export interface KeptSettings {
  readonly now: () => Settings;
  readonly onInitialize: (params: InitializeParams) => void;
  readonly onInitialized: () => void;
}

export interface SettingsOptions {
  readonly onChanged: () => void;
  readonly onError: (error: unknown) => void;
}

/** Keeps the settings of one client. They can also be given at the start, as `initializationOptions.settings`. */
export function keepSettings(connection: Connection, { onChanged, onError }: SettingsOptions): KeptSettings {
  let now = defaultSettings;
  /** Given at the start. */
  let given: unknown;
  let canAsk = false;
  let canRegister = false;
  let asked = 0;

  function take(said: unknown): void {
    // A client answers null where nobody has set anything.
    const next = settingsFrom(said ?? given);
    if (JSON.stringify(next) === JSON.stringify(now)) return;
    now = next;
    onChanged();
  }

  async function ask(): Promise<void> {
    const turn = ++asked;
    try {
      const said: unknown = await connection.workspace.getConfiguration(section);
      // An answer that another question has overtaken is old.
      if (turn === asked) take(said);
    } catch (error) {
      onError(error);
    }
  }

  connection.onDidChangeConfiguration(({ settings }: { settings: unknown }) => {
    if (canAsk) void ask();
    else take(isRecord(settings) ? own(settings, section) : undefined);
  });

  return {
    now: () => now,
    onInitialize({ capabilities, initializationOptions }) {
      canAsk = capabilities.workspace?.configuration === true;
      canRegister = capabilities.workspace?.didChangeConfiguration?.dynamicRegistration === true;
      given = isRecord(initializationOptions) ? own(initializationOptions, 'settings') : undefined;
      now = settingsFrom(given);
    },
    onInitialized() {
      if (canRegister) connection.client.register(DidChangeConfigurationNotification.type, { section }).catch(onError);
      if (canAsk) void ask();
    },
  };
}
