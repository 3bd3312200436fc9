"""The pack as a folder of files."""
