// Reloads the page when another build is served. Only "make dev" adds this.
let first = null;
new EventSource('/dev/builds').onmessage = ({ data }) => {
  if (first !== null && first !== data) location.reload();
  first = data;
};
