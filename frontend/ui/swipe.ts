import { useRef } from 'preact/hooks';

/** How far a finger goes sideways at least, and how much further than up or down. */
const least = 60;
const steepest = 0.6;

/** A swipe to either side over an element; what the finger came to rest on is not pressed. */
export function useSwipe(onSwipe: () => void) {
  const from = useRef<{ readonly x: number; readonly y: number } | null>(null);
  const swiped = useRef(false);
  return {
    onPointerDown: (event: PointerEvent) => {
      swiped.current = false;
      from.current = { x: event.clientX, y: event.clientY };
    },
    onPointerUp: (event: PointerEvent) => {
      const start = from.current;
      from.current = null;
      if (start === null) return;
      const [across, along] = [Math.abs(event.clientX - start.x), Math.abs(event.clientY - start.y)];
      if (across < least || along > across * steepest) return;
      swiped.current = true;
      onSwipe();
    },
    onClickCapture: (event: MouseEvent) => {
      if (!swiped.current) return;
      swiped.current = false;
      event.preventDefault();
      event.stopPropagation();
    },
  };
}
