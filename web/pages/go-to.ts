/** Goes to another page of ours without loading everything anew. */
export function goTo(path: string): void {
  history.pushState(null, '', path);
  dispatchEvent(new PopStateEvent('popstate'));
}
