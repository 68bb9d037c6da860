//! The first line of a recovery file.

use std::path::{Path, PathBuf};

use super::fingerprint::Fingerprint;

/// The only version of recovery files there is.
const VERSION: u32 = 1;

const MAGIC: &str = "packwright-recovery";

/// What a recovery file says of itself before the job's bytes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Header {
    /// The job's file as it was when the edits began, `None` if there was none.
    pub(super) base: Option<Fingerprint>,
    /// The job's file, `None` for a job never saved.
    pub(super) job: Option<PathBuf>,
}

/// Why a recovery file cannot be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Unusable {
    Damaged(&'static str),
    Newer(u32),
}

impl Header {
    /// The whole recovery file: this header and `content`.
    ///
    /// The line also carries the content's length and fingerprint, so that a file cut short or
    /// filled with zeros by a power cut is known for what it is.
    pub(super) fn with(&self, content: &[u8]) -> Vec<u8> {
        let base = match self.base {
            Some(base) => base.to_string(),
            None => "none".to_owned(),
        };
        let job = match &self.job {
            Some(job) => escape(&path_bytes(job)),
            None => String::new(),
        };
        let (length, check) = (content.len(), Fingerprint::of(content));
        let mut file = format!("{MAGIC} {VERSION} base={base} length={length} check={check} job={job}\n").into_bytes();
        file.extend_from_slice(content);
        file
    }

    /// Takes a recovery file apart into its header and its content.
    pub(super) fn split(file: &[u8]) -> Result<(Self, &[u8]), Unusable> {
        let end = file.iter().position(|&byte| byte == b'\n');
        let (line, content) = match end {
            Some(end) => (&file[..end], &file[end + 1..]),
            None => (file, &[][..]),
        };
        let mut words = std::str::from_utf8(line)
            .map_err(|_| Unusable::Damaged("its first line is not text"))?
            .split(' ');
        if words.next() != Some(MAGIC) {
            return Err(Unusable::Damaged("it does not begin as a recovery file does"));
        }
        match words.next().and_then(|version| version.parse().ok()) {
            Some(VERSION) => {}
            Some(newer) if newer > VERSION => return Err(Unusable::Newer(newer)),
            _ => return Err(Unusable::Damaged("its version is not a version")),
        }
        let header = Self::parse_fields(&mut words, content);
        match (header, words.next()) {
            (Some((header, true)), None) => Ok((header, content)),
            (Some((_, false)), None) => Err(Unusable::Damaged("its content is not whole")),
            _ => Err(Unusable::Damaged("its first line is not whole")),
        }
    }

    /// The header and whether `content` is what it promises; `None` if a field is not right.
    fn parse_fields<'a>(words: &mut impl Iterator<Item = &'a str>, content: &[u8]) -> Option<(Self, bool)> {
        let mut field = |name| words.next()?.strip_prefix(name);
        let base = match field("base=")? {
            "none" => None,
            hex => Some(Fingerprint::from_hex(hex)?),
        };
        let length: usize = field("length=")?.parse().ok()?;
        let check = Fingerprint::from_hex(field("check=")?)?;
        let job = match field("job=")? {
            "" => None,
            escaped => Some(path_from_bytes(unescape(escaped)?)?),
        };
        let is_whole = content.len() == length && Fingerprint::of(content) == check;
        Some((Self { base, job }, is_whole))
    }
}

/// `bytes` with all but plain visible characters written as `%` and two hexadecimal digits.
fn escape(bytes: &[u8]) -> String {
    const HEX: &[u8; 16] = b"0123456789abcdef";
    let mut text = String::with_capacity(bytes.len());
    for &byte in bytes {
        if byte.is_ascii_graphic() && byte != b'%' {
            text.push(char::from(byte));
        } else {
            text.push('%');
            text.extend([byte >> 4, byte & 0xf].map(|digit| char::from(HEX[usize::from(digit)])));
        }
    }
    text
}

fn unescape(text: &str) -> Option<Vec<u8>> {
    let mut parts = text.split('%');
    let mut bytes = parts.next()?.as_bytes().to_vec();
    for part in parts {
        let (hex, plain) = part.split_at_checked(2)?;
        bytes.push(u8::from_str_radix(hex, 16).ok()?);
        bytes.extend_from_slice(plain.as_bytes());
    }
    Some(bytes)
}

#[cfg(unix)]
fn path_bytes(path: &Path) -> Vec<u8> {
    use std::os::unix::ffi::OsStrExt;
    path.as_os_str().as_bytes().to_vec()
}

#[cfg(unix)]
#[expect(clippy::unnecessary_wraps, reason = "one signature on all systems")]
fn path_from_bytes(bytes: Vec<u8>) -> Option<PathBuf> {
    use std::os::unix::ffi::OsStringExt;
    Some(std::ffi::OsString::from_vec(bytes).into())
}

/// A name that is not Unicode is not found again from here, but it is from the job's side.
#[cfg(not(unix))]
fn path_bytes(path: &Path) -> Vec<u8> {
    path.to_string_lossy().into_owned().into_bytes()
}

#[cfg(not(unix))]
fn path_from_bytes(bytes: Vec<u8>) -> Option<PathBuf> {
    String::from_utf8(bytes).ok().map(PathBuf::from)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use rstest::rstest;

    fn header() -> Header {
        Header {
            base: Some(Fingerprint::of(b"old")),
            job: Some("/shop/van 50%\n.pack".into()),
        }
    }

    #[test]
    fn writes_one_plain_line() {
        let file = header().with(b"{}");
        // FNV-1a of "old" and "{}" from an independent calculation.
        let line = "packwright-recovery 1 base=1a0fad1921d08076 length=2 \
                    check=08f44b07b5901a25 job=/shop/van%2050%25%0a.pack\n{}";
        assert_eq!(String::from_utf8(file).unwrap(), line);
    }

    #[rstest]
    #[case::empty("", "does not begin")]
    #[case::zeros("\0\0\0\0", "does not begin")]
    #[case::another_file("{\"format\": 1}", "does not begin")]
    #[case::no_version("packwright-recovery", "version")]
    #[case::version_0("packwright-recovery 0 base=none", "version")]
    #[case::cut_line("packwright-recovery 1 base=none length=0", "first line is not whole")]
    #[case::bad_base(
        "packwright-recovery 1 base=x length=0 check=cbf29ce484222325 job=\n",
        "first line is not whole"
    )]
    #[case::bad_escape(
        "packwright-recovery 1 base=none length=0 check=cbf29ce484222325 job=%f\n",
        "first line is not whole"
    )]
    #[case::more_words(
        "packwright-recovery 1 base=none length=0 check=cbf29ce484222325 job= x\n",
        "first line is not whole"
    )]
    #[case::cut_content(
        "packwright-recovery 1 base=none length=1 check=cbf29ce484222325 job=\n",
        "content is not whole"
    )]
    fn tells_what_is_damaged(#[case] file: &str, #[case] expected: &str) {
        match Header::split(file.as_bytes()) {
            Err(Unusable::Damaged(why)) => assert!(why.contains(expected), "{why}"),
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn leaves_newer_versions_alone() {
        let file = b"packwright-recovery 2 something else\n";
        assert_eq!(Header::split(file), Err(Unusable::Newer(2)));
    }

    proptest! {
        #[test]
        fn what_was_written_is_read_back(
            base in proptest::option::of(any::<Vec<u8>>()),
            job in proptest::option::of("\\PC{1,40}"),
            content in any::<Vec<u8>>(),
        ) {
            let header = Header {
                base: base.map(|base| Fingerprint::of(&base)),
                job: job.map(PathBuf::from),
            };
            let file = header.with(&content);
            prop_assert_eq!(Header::split(&file), Ok((header, &content[..])));
        }

        #[test]
        fn one_changed_byte_of_the_content_is_noticed(
            mut content in proptest::collection::vec(any::<u8>(), 1..200),
            at in any::<prop::sample::Index>(),
            change in 1..=255_u8,
        ) {
            let mut file = header().with(&content);
            let line = file.len() - content.len();
            let at = at.index(content.len());
            content[at] ^= change;
            file[line + at] ^= change;
            prop_assert_eq!(
                Header::split(&file),
                Err(Unusable::Damaged("its content is not whole"))
            );
        }

        #[test]
        fn no_file_however_damaged_makes_it_panic(
            keep in any::<prop::sample::Index>(),
            put in any::<Vec<u8>>(),
        ) {
            let mut file = header().with(b"{\"format\": \"packwright\"}");
            file.truncate(keep.index(file.len()));
            file.extend(put);
            let _ = Header::split(&file);
        }
    }
}
