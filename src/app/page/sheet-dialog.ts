/** Opens a dialog over the page; when it is closed it is taken out of the page again. */
export function showSheet(dialog: HTMLDialogElement): void {
  dialog.addEventListener('close', () => dialog.remove());
  document.body.append(dialog);
  dialog.showModal();
}
