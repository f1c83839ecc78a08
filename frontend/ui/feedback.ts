import { display } from './display';

let sounds: AudioContext | undefined;

function click(): void {
  sounds ??= new AudioContext();
  const tone = sounds.createOscillator();
  const volume = sounds.createGain();
  volume.gain.value = 0.08;
  tone.frequency.value = 880;
  tone.connect(volume).connect(sounds.destination);
  tone.start();
  tone.stop(sounds.currentTime + 0.04);
}

/** A short buzz and click, so that a tally can be counted without looking. */
export function feel(): void {
  if (display.value.sound === 'off') return;
  try {
    navigator.vibrate?.(25);
    click();
  } catch {
    // A device without either still counts.
  }
}
