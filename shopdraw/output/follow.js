// Follows what is drawn: asks for what comes next, and puts it in place of what is shown.
"use strict";
(async () => {
  const state = document.querySelector("#state");
  const ended = document.body.dataset.ended;
  let number = document.body.dataset.number;
  for (;;) {
    try {
      const answer = await fetch(`/next?after=${encodeURIComponent(number)}`);
      if (answer.status === 204) continue;
      if (!answer.ok) throw new Error(answer.statusText);
      const next = new DOMParser().parseFromString(await answer.text(), "text/html");
      number = next.body.dataset.number;
      document.title = next.title;
      document.querySelector("#live").replaceWith(next.querySelector("#live"));
      state.textContent = next.querySelector("#state").textContent;
      document.body.classList.remove("ended");
    } catch {
      state.textContent = ended;
      document.body.classList.add("ended");
      await new Promise((done) => setTimeout(done, 1000));
    }
  }
})();
