package place

// CarrierLock is where the lock lies that a carrier of entries has beside a record while
// it works.
func CarrierLock(record string) string { return record + "-share-lock" }
