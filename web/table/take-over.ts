/** Arriving on a phone by a code: it lets look, and brings a keychain along. */
import { ApiError } from '../sync/index.ts';
import { t } from '../text/index.ts';
import { sayServerError } from '../words/index.ts';
import { isUsedUp, takeCode } from './hand-over.ts';
import { takeIn, unpackKeychain } from './keychain-parcel.ts';
import type { KeychainShelf } from './keychain-shelf.ts';

/** The keychain to go on with, or what there is to be said instead. */
type Arrival =
  | { readonly kind: 'here'; readonly id: string }
  | { readonly kind: 'full' }
  | { readonly kind: 'said'; readonly sentence: string };

/** Rules N80 and N81. @param newId id for the second of two keychains that went on apart */
export async function takeOver(
  boardId: string,
  shelf: KeychainShelf,
  code: string,
  newId: string,
): Promise<Arrival> {
  let carried: string;
  try {
    carried = await takeCode(boardId, code);
  } catch (error) {
    if (!(error instanceof ApiError)) throw error;
    const sentence = isUsedUp(error)
      ? t('handOver.usedUp')
      : t('handOver.failed', { why: sayServerError(error) });
    return { kind: 'said', sentence };
  }
  const parcel = await unpackKeychain(carried);
  if (parcel === null) return { kind: 'said', sentence: t('handOver.unread') };
  const id = takeIn(shelf, parcel, newId);
  return id === null ? { kind: 'full' } : { kind: 'here', id };
}
