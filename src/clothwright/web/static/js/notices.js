// @ts-check
// What was noticed about the workbook's folder is put away without the page being loaded anew.
import { fieldsOf, post } from "./asking.js";
import { refresh } from "./morph.js";

/** A form with data-noticed is sent as it is, and the notices are drawn anew. */
export function followNotices() {
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (!(form instanceof HTMLFormElement) || form.dataset.noticed === undefined) return;
    event.preventDefault();
    void post(form.action, fieldsOf(form)).then((told) => told && refresh(["noticed"]));
  });
}
