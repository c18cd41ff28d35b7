const query = (): MediaQueryList =>
  matchMedia('(max-width: 640px), (max-width: 860px) and (max-height: 500px)');

/** Whether the page is a phone's, upright or turned: then what has no room on the board stands in the sheet of tools. */
export const isPhone = (): boolean => query().matches;

/** @param then is told when the page becomes a phone's or is one no longer @returns ends that */
export function followPhone(then: () => void): () => void {
  const phone = query();
  phone.addEventListener('change', then);
  return () => phone.removeEventListener('change', then);
}
