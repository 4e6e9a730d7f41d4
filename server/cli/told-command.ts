/** Commands that say in our words what was mistyped: which command, what it needs, and how to write it. */
import { Command, type ErrorOptions, type Option } from 'commander';
import { nearest } from '../model/nearest.ts';
import { listed } from './words.ts';

export class ToldCommand extends Command {
  override createCommand(name?: string): Command {
    return new ToldCommand(name);
  }

  override error(message: string, options?: ErrorOptions): never {
    return super.error(this.told(message, options?.code) ?? message, options);
  }

  /** By the code of the failure; of its text only the names that it quotes are looked at. Undefined where it is another one. */
  private told(message: string, code: string | undefined): string | undefined {
    const [, quoted = ''] = /'([\s\S]*?)'/.exec(message) ?? [];
    const option = this.options.find(({ flags }) => flags === quoted);
    switch (code) {
      case 'commander.missingArgument':
        return `${this.name()} needs <${quoted}>. Write: ${this.full()} ${this.usage()}`;
      case 'commander.missingMandatoryOptionValue':
        return option && `${this.name()} needs ${option.flags}: ${option.description}.`;
      case 'commander.optionMissingArgument':
        return option && `${nameOf(option)} needs a value. Write: ${option.flags}${choices(option)}`;
      case 'commander.invalidArgument': {
        const [, value] = /argument '([\s\S]*)' is invalid\./.exec(message) ?? [];
        if (!option?.argChoices || value === undefined) return undefined;
        const near = nearest(value, option.argChoices);
        const meant = near === undefined ? `. It is ${listed(option.argChoices, 'or')}.` : `; did you mean "${near}"?`;
        return `${nameOf(option)} cannot be "${value}"${meant}`;
      }
      case 'commander.unknownOption': {
        const own = [...this.options.flatMap(({ long }) => long ?? []), '--help'];
        return `${this.name()} has no option ${quoted}${this.instead(nearest(quoted, own))}`;
      }
      case 'commander.unknownCommand': {
        const names = this.commands.map((command) => command.name());
        return `There is no command "${quoted}"${this.instead(nearest(quoted, names))}`;
      }
      case 'commander.excessArguments': {
        const takes = this.registeredArguments.map((argument) => `<${argument.name()}>`);
        return `${this.name()} takes ${takes.join(' ') || 'nothing'}, and was given ${this.args.join(', ')}.`;
      }
      default:
        return undefined;
    }
  }

  private full(): string {
    return this.parent ? `${this.parent.name()} ${this.name()}` : this.name();
  }

  private instead(near: string | undefined): string {
    return near === undefined ? `. ${this.full()} --help tells what there is.` : `; did you mean ${near}?`;
  }
}

function nameOf({ long, flags }: Option): string {
  return long ?? flags;
}

function choices({ argChoices }: Option): string {
  return argChoices ? ` (${argChoices.join(', ')})` : '';
}
