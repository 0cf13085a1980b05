"""Views -> the site's files, as {path: bytes}. Knows no row that the view doesn't hold.

The site's addresses (paths from its root; links between them are relative, and always name the
file, so that a folder opened from disk works):

    index.html  404.html  feed.xml  sitemap.xml  robots.txt
    patterns/index.html                    the catalogue
    patterns/SLUG/index.html               a pattern, with its files beside it:
        finished.svg strip.svg share.jpg SLUG-a4.pdf SLUG-letter.pdf photo files
    posts/index.html  posts/SLUG/index.html
    tags/index.html   tags/TAG/index.html
    sheets/index.html sheets/SLUG-a4.pdf sheets/SLUG-letter.pdf
    SLUG/index.html                        free-standing pages (about)
    assets/...                             the theme's styles and scripts
"""
