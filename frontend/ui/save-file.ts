/** Hands a text to the browser as a file to be saved. */
export function saveFile(name: string, text: string): void {
  const url = URL.createObjectURL(new Blob([text], { type: 'application/octet-stream' }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  // The browser has taken the blob by the time that a timer runs.
  setTimeout(() => {
    URL.revokeObjectURL(url);
  }, 60_000);
}
