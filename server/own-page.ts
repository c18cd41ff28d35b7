/** Whether whoever asks comes from a page of this server. */

/** Whether a page of this origin may talk to this host. Requests without an origin do not come from a page. */
export function isOriginAllowed(
  origin: string | undefined,
  host: string | undefined,
  allowed: readonly string[],
): boolean {
  if (origin === undefined) return true;
  if (allowed.includes(origin)) return true;
  try {
    return host !== undefined && new URL(origin).host === host;
  } catch (cause) {
    if (cause instanceof TypeError) return false;
    throw cause;
  }
}

/**
 * Whether a request that changes something comes from a page of ours, or from no page at all. Browsers say themselves from where a page asks
 * (`Sec-Fetch-Site`), also where they leave out the origin: then only a page of the very same origin counts, or nobody's (`none`: somebody's
 * own doing). A sister page of the same site is another's.
 */
export function isOwnPage(
  said: {
    readonly origin: string | undefined;
    readonly host: string | undefined;
    readonly site: string | undefined;
  },
  allowed: readonly string[],
): boolean {
  const { origin, host, site } = said;
  if (origin !== undefined && allowed.includes(origin)) return true;
  return (
    isOriginAllowed(origin, host, allowed) &&
    (site === undefined || site === 'same-origin' || site === 'none')
  );
}
