import { Button, useAction } from '.';
import { exportOutbox } from '../lib';
import { countWords } from './words';

/** The last resort where a tablet cannot send: what waits, as a sealed file. */
export function ExportOutbox() {
  const { run, line } = useAction();
  const save = async () => {
    const file = await exportOutbox();
    if (file.entries === 0) return 'Nothing waits on this tablet, so there is nothing to put into a file.';
    saveFile(file.name, file.text);
    return `${countWords(file.entries, 'entry', 'entries')} went into ${file.name}. Give the file to your administrator, who takes it in with “doorsill import”. What waits also stays here.`;
  };
  return (
    <>
      {line}
      <p>Save what waits to a file and give it to your administrator. The file is sealed: only your organisation can open it.</p>
      <Button onPress={() => void run(save)}>Save what waits to a file</Button>
    </>
  );
}

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
