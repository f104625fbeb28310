/**
 * Remembers what has the focus before the table is drawn anew. The answer gives it back to the part of the same hold, wherever it stands then; letters typed
 * and not yet entered outlive a drawing that something else has asked for (`outside`).
 */
export function keptFocus(outside: boolean): (...places: readonly HTMLElement[]) => void {
  const focused = document.activeElement as SVGElement | HTMLElement | null;
  const kept = focused?.dataset?.hold ?? null;
  const typing = outside && focused instanceof HTMLInputElement && focused.value !== focused.defaultValue ? focused.value : null;
  return (...places) => {
    if (!kept || (document.activeElement !== null && document.activeElement !== document.body)) return;
    const hold = `[data-hold="${CSS.escape(kept)}"]`;
    const again = places.map((place) => place.querySelector<SVGElement | HTMLElement>(hold)).find((found) => found !== null);
    again?.focus();
    if (typing !== null && again instanceof HTMLInputElement) again.value = typing;
  };
}
