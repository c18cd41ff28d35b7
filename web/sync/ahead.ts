/**
 * Answers of the server that were asked for, or sent along, before the page was there: by method and address, each good for one asking.
 * They stand beside the page's own files, since what asks for them comes long before.
 */
type Ahead = Map<string, Promise<Response>>;

const scope = globalThis as typeof globalThis & { larkboardAhead?: Ahead };

/** Notes what will be answered to whoever asks so. */
export function answerAhead(method: string, path: string, answer: Promise<Response>): void {
  scope.larkboardAhead ??= new Map();
  scope.larkboardAhead.set(`${method} ${path}`, answer);
  // Whoever asks hears of it; where nobody does it is nobody's.
  answer.catch(() => {});
}

/** The answer, once; undefined where none was asked for. */
export function takeAhead(method: string, path: string): Promise<Response> | undefined {
  const key = `${method} ${path}`;
  const answer = scope.larkboardAhead?.get(key);
  scope.larkboardAhead?.delete(key);
  return answer;
}

/** From now on everything is asked for anew. */
export function forgetAhead(): void {
  scope.larkboardAhead?.clear();
}
