"""What people take home: a paper is a list of blocks, and writers turn it into PDF, a word-processor file and text."""
