/**
 * Messages on their way out. What is said in one turn leaves in one piece: the writer of the library takes a turn of
 * the event loop and two writes for every message, which a thousand diagnostics, and a single answer too, wait for.
 */
import { AbstractMessageWriter, type Message, type MessageWriter } from 'vscode-languageserver/node';

export class GatheringWriter extends AbstractMessageWriter implements MessageWriter {
  private readonly output: NodeJS.WritableStream;
  private waiting: string[] = [];
  /** When what is waiting has been handed over. */
  private leaving: Promise<void> | undefined;

  constructor(output: NodeJS.WritableStream) {
    super();
    this.output = output;
    output.on('error', (error) => this.fireError(error));
    output.on('close', () => this.fireClose());
  }

  write(message: Message): Promise<void> {
    try {
      const text = JSON.stringify(message);
      this.waiting.push(`Content-Length: ${Buffer.byteLength(text)}\r\n\r\n${text}`);
    } catch (error) {
      this.fireError(error, message);
      return Promise.reject(error);
    }
    this.leaving ??= Promise.resolve().then(() => this.leave());
    return this.leaving;
  }

  end(): void {
    this.leave();
    this.output.end();
  }

  private leave(): void {
    this.leaving = undefined;
    if (this.waiting.length === 0) return;
    const text = this.waiting.join('');
    this.waiting = [];
    this.output.write(text, 'utf8');
  }
}
