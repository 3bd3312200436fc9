"""The job sheet: one HTML page that holds a whole job; its templates stand beside."""
