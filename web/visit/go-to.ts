/** Goes to another page of ours without loading everything anew. */
export function goTo(path: string): void {
  history.pushState(null, '', path);
  dispatchEvent(new PopStateEvent('popstate'));
}

/** Whether a click on a link is for this tab, so that {@link goTo} may answer it. With a key held the browser opens another. */
export function isForThisTab(event: MouseEvent): boolean {
  return !(event.metaKey || event.ctrlKey || event.shiftKey) && event.button === 0;
}
