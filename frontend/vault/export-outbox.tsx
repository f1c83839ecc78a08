import { useState } from 'preact/hooks';
import { Banner, Button, reasonOf } from '../parts';
import { saveFile } from '../parts/save-file';
import { countWords } from '../results/words';
import { exportOutbox } from '../store';

/** The last resort where a tablet cannot send: what waits, as a sealed file. */
export function ExportOutbox() {
  const [said, setSaid] = useState<{ readonly done: boolean; readonly text: string } | null>(null);
  const save = async () => {
    try {
      const file = await exportOutbox();
      if (file.entries === 0) return setSaid({ done: true, text: 'Nothing waits on this tablet, so there is nothing to put into a file.' });
      saveFile(file.name, file.text);
      setSaid({ done: true, text: `${countWords(file.entries, 'entry', 'entries')} went into ${file.name}. Give the file to your administrator, who takes it in with “doorsill import”. What waits also stays here.` });
    } catch (error) {
      setSaid({ done: false, text: reasonOf(error) });
    }
  };
  return (
    <>
      {said ? <Banner tone={said.done ? 'done' : 'caution'} title={said.done ? 'Saved to a file' : 'No file was made'} live>{said.text}</Banner> : null}
      <p>If this tablet cannot send, what waits can be saved to a file. The file is sealed: only your organisation can open it.</p>
      <Button onPress={() => void save()}>Save what waits to a file</Button>
    </>
  );
}
