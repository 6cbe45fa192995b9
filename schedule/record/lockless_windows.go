package record

// lockless is what SQLite calls the files of this system when it locks none of them.
const lockless = "win32-none"
