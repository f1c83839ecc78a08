import { useEffect, useRef, useState } from 'preact/hooks';

/** The width that a drawing has, in pixels, so that its letters stay as large as those around it. */
export function useWidth(usual = 640) {
  const frame = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(usual);
  useEffect(() => {
    const box = frame.current;
    if (!box) return undefined;
    const watch = new ResizeObserver(() => setWidth(Math.max(260, Math.floor(box.clientWidth))));
    watch.observe(box);
    return () => watch.disconnect();
  }, []);
  return { frame, width };
}
