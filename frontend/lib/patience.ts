/** Waits for work, and no longer than so many milliseconds; undefined when they were over first. */
export async function atMost<T>(ms: number, work: Promise<T>): Promise<T | undefined> {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const over = new Promise<undefined>((resolve) => {
    timer = setTimeout(() => {
      resolve(undefined);
    }, ms);
  });
  return Promise.race([work, over]).finally(() => {
    clearTimeout(timer);
  });
}
