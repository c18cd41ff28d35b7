/** Words of the craft to call people by, in English: the same things in the same order as in every language. */
export const enCraftNames: readonly string[] =
  'Bobbin Shuttle Skein Thimble Tassel Braid Plait Cord Loop Fringe Toggle Button Spool Reel Needle Ribbon Spindle Distaff Heddle Picot Twill Hemp Linen Jute Cotton Wool Felt Weft Warp Selvage Bead Clasp Ring Charm Hitch Twine Thread Yarn Lace Awl'.split(
    ' ',
  );
