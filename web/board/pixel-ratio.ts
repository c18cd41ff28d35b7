/**
 * Calls when a CSS px gets more or fewer of the screen's pixels, as where the window comes to another screen: no size changes then.
 * @returns stops it
 */
export function onPixelRatio(listener: () => void): () => void {
  let query = watched();
  function watched(): MediaQueryList {
    const now = matchMedia(`(resolution: ${devicePixelRatio}dppx)`);
    now.addEventListener('change', changed, { once: true });
    return now;
  }
  function changed(): void {
    query = watched();
    listener();
  }
  return () => query.removeEventListener('change', changed);
}
