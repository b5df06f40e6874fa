/* Keeps the initials of whoever enters in this browser, so that the next visit need not ask again. */
export default function ({ data }) {
  if (data.who) {
    const year = 60 * 60 * 24 * 365;
    document.cookie = `${data.name}=${encodeURIComponent(data.who)}; Max-Age=${year}; Path=/; SameSite=Strict`;
  }
}
