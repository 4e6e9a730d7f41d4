/** What is used of saxen, which ships no types. */
declare module 'saxen' {
  type Decode = (text: string) => string;
  export class Parser {
    on(
      event: 'openTag',
      heard: (name: string, attributes: () => Record<string, string> | boolean, decode: Decode) => void,
    ): this;
    on(event: 'closeTag', heard: (name: string, decode: Decode) => void): this;
    on(event: 'text', heard: (value: string, decode: Decode) => void): this;
    on(event: 'cdata', heard: (value: string) => void): this;
    on(event: 'error' | 'warn', heard: (error: Error) => void): this;
    parse(xml: string): this;
  }
}
